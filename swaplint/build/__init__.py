"""The build as a rule sees it: it notices what is read."""
