"""Writing specs: drafts to fill in."""
