"""The HTTP API: what the pages show and the actions do, for programs. `/api/1/openapi.json` describes it.

Who may see or change what is decided by `procedures.access`, as for every page.
"""
