"""Pure functions of plain numbers in SI: what the air, the sea, the sun, the piping and tired people allow.

Nothing here knows a ship's records, a clock or a rule. Physics only tightens: no result of this room
opens a space, and none replaces a recorded reading.
"""
