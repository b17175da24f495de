"""Which standing words does a paper carry: cautions, what sums are, the right to cancel?"""

from __future__ import annotations

from jobs.enums import Caution

CAUTIONS: dict[str, str] = {
    Caution.DUST: (
        "Cutting and sanding make wood dust, which harms the lungs. We use extraction and masks; please keep"
        " the work area clear of people, above all where they have asthma."
    ),
    Caution.ELECTRICS: (
        "Electrical work is done or tested and certified by a competent, registered person to the local"
        " rules. Do not switch on circuits we have marked as unfinished."
    ),
    Caution.GAS: (
        "Gas pipework and appliances are fitted and tested only by a registered gas engineer for that kind of"
        " installation. Joinery around them keeps the ventilation openings their rules ask for."
    ),
    Caution.STRUCTURE: (
        "Nothing that carries load is cut or taken out until a qualified person has checked it. If hidden"
        " structure turns up, work stops there and we ask you before going on."
    ),
    Caution.MASS: (
        "Fittings add mass. The finished vehicle or vessel has to stay within its permitted mass, axle and"
        " stability limits; have it weighed or surveyed before use."
    ),
    Caution.HEIGHTS: "Work at height is done from a tower or platform; please keep clear of the area below.",
}
SUMS_NOTE = (
    "A prime cost sum is what we allow for goods still to be chosen, a provisional sum for work that cannot"
    " be measured yet. Each is taken off the price at the end and the actual cost put in its place."
)
RIGHT_TO_CANCEL = (
    "If you are a private person and this contract is made away from our premises or at a distance, you may"
    " have the right to cancel it within 14 days: from the day after the contract for services, from the day"
    " after delivery for goods. Goods made to your own specification are an exception. To cancel, tell us in"
    " writing before the time is up. This is a summary, not legal advice."
)


def cautions_for(found: set[str]) -> tuple[str, ...]:
    """The cautions of a job in a steady order, each once."""
    return tuple(words for caution, words in CAUTIONS.items() if caution in found)
