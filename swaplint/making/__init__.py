"""What a build spec says to buy, cut and make, and what is handed over with the vehicle: data only."""
