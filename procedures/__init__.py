"""The site: procedures that people author, read, follow, print and share."""
