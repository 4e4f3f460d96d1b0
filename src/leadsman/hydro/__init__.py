"""Physics of a lure on a line: drag, retrieve, steady tow, contact, cast flight, zone length."""
