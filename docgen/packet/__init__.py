"""A case -> its packet, stage by stage; the only package that knows every layer.

read -> evidence -> fit -> criteria      assess.py
-> documents                             wording.py, trees.py, reading.py
-> rendering                             render.py; languages.py, translation.py
-> files                                 write.py, belonging.py, manifest.py, place.py, move.py, forget.py
who reviewed exactly this                approval.py
"""

from docgen.packet.approval import Review, approve, reviewed
from docgen.packet.assess import Assessed, asked_on, assess, case_folders
from docgen.packet.languages import Foreign, in_language
from docgen.packet.manifest import MANIFEST
from docgen.packet.reading import reading_facts
from docgen.packet.recipe import Selection
from docgen.packet.render import FORMATS, render, status_words
from docgen.packet.teaching import teaching_copy
from docgen.packet.trees import template_tree, trees
from docgen.packet.wording import Wording, copy_out, document_names, language_words, languages, overlaid, wording
from docgen.packet.write import Packet, build

__all__ = [
    "FORMATS",
    "MANIFEST",
    "Assessed",
    "Foreign",
    "Packet",
    "Review",
    "Selection",
    "Wording",
    "approve",
    "asked_on",
    "assess",
    "build",
    "case_folders",
    "copy_out",
    "document_names",
    "in_language",
    "language_words",
    "languages",
    "overlaid",
    "reading_facts",
    "render",
    "reviewed",
    "status_words",
    "teaching_copy",
    "template_tree",
    "trees",
    "wording",
]
