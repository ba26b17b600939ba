"""One formula to a file, named as its id."""
