"""The library as a static site: pages that need no network."""
