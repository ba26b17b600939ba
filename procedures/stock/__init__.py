"""From the finished piece back to the bar: what to start with, which bar to take, and how to cut it.

Pure: no Django. Lengths in mm, masses in kg.
"""
