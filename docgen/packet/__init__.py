"""A case -> its packet, stage by stage; the only package that knows every layer.

read -> evidence -> fit -> criteria      assess.py
-> documents                             wording.py, trees.py, reading.py
-> rendering                             render.py; languages.py, translation.py
-> files                                 write.py, belonging.py, manifest.py, place.py, move.py, forget.py
who reviewed exactly this                approval.py

Import from the module that holds it: this file loads none, so that a check loads nothing of the pages.
"""
