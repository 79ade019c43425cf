"""The two faces of practice: plain lines, and the full screen."""
