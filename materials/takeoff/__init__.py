"""Take-off: from what was measured to the pieces, fixings, finishes, mass and hours it takes.

Plain Python over frozen dataclasses; nothing here knows of a database, a request or a setting.
"""
