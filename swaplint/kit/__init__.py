"""The authors' kit: a sound spec to try rules on, edits to it, and the tests that follow from a rule's declaration."""
