"""A class at the forge: who works where and when, how long it must take, and what holds it up.

Pure: no Django. Times in minutes from the beginning of the session.
"""
