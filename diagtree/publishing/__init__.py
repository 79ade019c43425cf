"""The whole library published: as a site to browse, and as a binder to print."""
