"""Open data in and out: procedures as a zip, a person's whole account, and true deletion.

`layout`, `manifest`, `readme`, `writing`, `opening` and `reading` are pure: files in, files out. `packing`
reads the database for them, `account` finds what each room keeps of a person.
"""
