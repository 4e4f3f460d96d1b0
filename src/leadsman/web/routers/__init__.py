"""Addresses of the API, a module for each subject; each calls one use case."""
