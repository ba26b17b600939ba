"""The forging engine: pieces, operations and their replay. Plain Python, no Django, no database."""
