"""The features a finished part is described by, one file each. A file here is a feature by being here."""
