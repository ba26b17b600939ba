"""The operations, one file each. A file here is in the catalogue by being here."""
