"""The JSON interface for the workshop's own scripts: the same rules and services as the pages."""
