"""From a drawing: a finished part described as a run of features, and a first procedure drafted from it.

A feature is one file in `features/`: what it is told, how much bar it takes, its steps, and what comes of it.
"""
