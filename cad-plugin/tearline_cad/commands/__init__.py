"""Commands of menu and toolbar."""
