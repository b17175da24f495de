"""Reads of the materials room: typed objects in a fixed number of queries."""
