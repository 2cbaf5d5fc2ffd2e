"""The handout: a plan as a paper that somebody without the program can follow.

``prose`` makes sentences, ``contents`` puts everything in its order as data, and
``html``, ``markdown`` and ``pdf`` print it; ``bench`` and ``labels`` are papers of
their own.
"""
