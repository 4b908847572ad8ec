"""Is the gate open, and what shuts it?"""
