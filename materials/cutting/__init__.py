"""Cutting plans for boards and sheets: what to buy and how to cut it, at the least cost.

Plain Python over frozen dataclasses; nothing here knows of a database, a request or a setting.
"""
