"""What a workshop works by, as data: reports turn it into text, tables and JSON."""
