"""The library as one PDF to print and bind."""
