"""Which numbers a case supports, topic by topic; each module is found by its file name.

A module holds QUESTION, its place ORDER, and `facts(case)`, a generator of Facts.
"""
