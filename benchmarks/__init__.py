"""Measurements against published figures and of our own growth; each module is a command."""
