"""The plugin host: finds rule packs, checks them, and runs what they hold without trusting it to behave."""
