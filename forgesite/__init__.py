"""The project: settings, addresses, the server's entry and the set-up behind manage.py."""
