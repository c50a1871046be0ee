"""Heat-work, curve, kiln and ware, in plain floats (C, h, C/h, mm)."""
