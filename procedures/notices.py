"""What every page, paper and file says about harm: one source of the words, wherever they stand."""

HOT_WORK = "Hot work can hurt you and others."
RULES = (
    "Eyes, ears, lungs, fire: follow your own workshop’s rules, local codes and the people qualified"
    " to judge."
)
NUMBERS = "The numbers here help to plan forging."
NOT_CERTIFIED = (
    "Forgesite certifies nothing for lifting, for structures, for gas or for anything a life hangs on."
)
SHORT = f"{HOT_WORK} {NOT_CERTIFIED}"
WHOLE = f"{HOT_WORK} {RULES} {NUMBERS} {NOT_CERTIFIED}"
