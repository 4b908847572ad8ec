"""Reports: results turned into text, JSON and SARIF. They know results, and no rules."""
