"""The page to write procedures in: served to one's own machine only.

``source/`` holds the page's own code with pinned versions of what it is built on, and
``built/`` the bundle made of it (``npm ci && npm run build`` in ``source/``), so that
nobody who installs the program needs npm.
"""
