"""The report as one page that opens from disk: words, tables and drawings."""
