"""Leadsman: depth control for people who cast diving lures."""

__version__ = "0.1.0"
