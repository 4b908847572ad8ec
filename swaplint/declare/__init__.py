"""What a rule pack is made of: rules, quantities, verdicts, sources, cautions."""
