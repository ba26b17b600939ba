"""Heats, minutes and blows of a procedure, worked out from its frames and the shop it is done in.

Pure: no Django. Lengths in mm, energies in J, temperatures in °C, times in seconds. What is predicted is a
range of low, typical and high, and says why it is so.
"""
