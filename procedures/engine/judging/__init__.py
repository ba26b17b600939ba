"""What a whole procedure does to its metal, and the rules that judge it; each rule is a file in `rules/`."""
