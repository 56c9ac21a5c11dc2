"""Cutonce: from a wanted design and one body's measures to a proven sewing pattern on full-size paper."""
