"""Task panels."""
