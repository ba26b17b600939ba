"""What procedures are found by, and what is meant by what was typed. Pure: no Django."""
