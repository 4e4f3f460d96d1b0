"""What `--json` prints and the web sends: one documented, versioned form each.

Names carry their unit. Adding a field keeps the version of a schema, any other
change raises it; docs/json.md describes every field.
"""
