"""The built-in rule packs, one folder per system. Each is loaded exactly as a stranger's pack is."""
