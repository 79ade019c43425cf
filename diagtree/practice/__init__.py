"""Practice: machines that are not there, with a hidden fault to be found; no screen, no terminal."""
