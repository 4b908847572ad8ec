"""Running rules over a spec, and what comes out."""
