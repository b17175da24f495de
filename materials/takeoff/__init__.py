"""Take-off: from the shape of the thing to the pieces to cut, with the working a pencil can check.

Plain Python over frozen dataclasses; nothing here knows of a database, a request or a setting.
`registry.compute` is the door: a kind, its inputs and a catalogue in, a `Result` out.
"""
