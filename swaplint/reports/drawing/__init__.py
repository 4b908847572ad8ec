"""Figures drawn: what packs return as data becomes SVG, in the colours of the page that it stands in."""
