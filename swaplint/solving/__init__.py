"""Rules run backwards: because a rule is a pure function of what it reads, the host can ask "what if".

Tolerance corners, remedies, `size` and `study` all rest on one thing: the same rules on a changed view.
"""
