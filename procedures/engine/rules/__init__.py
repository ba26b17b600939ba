"""The rules about whole procedures, one file each. A file here is a rule by being here."""
