"""What each room keeps of a person, one file a room; see `procedures.exchange.account`."""
