"""Search by ruin and recreate, compiled: take part of a layout apart and put it together better."""
