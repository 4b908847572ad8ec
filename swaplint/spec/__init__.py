"""The build spec and the data sheets: typed models, and loading with source positions."""
