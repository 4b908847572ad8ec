"""What a workshop works by, as data: what to buy, cut and make, what to do and measure, what is handed over."""
