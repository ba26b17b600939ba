"""How metal moves: what operations of a kind share, and what they check."""
