"""Lines that show how something is written, with amounts in the reader's own measures.

“heat dye-bath to 85 °C” is of no use to whoever has a thermometer in °F. In a template
``{hot}`` is such an amount: 85 °C to the one, 185 °F to the other.
"""

from __future__ import annotations

from procedure.findings import Sample, Says, Value, say

SAMPLES: dict[str, Sample] = {
    "hot": Sample("temperature", "85 °C", "185 °F", "185 °F"),
    "tepid": Sample("temperature", "30 °C", "85 °F", "85 °F"),
    "degrees": Sample("temperature", "°C", "°F", "°F"),
    "some_alum": Sample("mass", "12 g", "1/2 oz", "1/2 oz"),
    "some_yarn": Sample("mass", "100 g", "4 oz", "4 oz"),
    "weight": Sample("mass", "g", "oz", "oz"),
    "some_water": Sample("volume", "2 L", "2 US qt", "2 imp qt"),
    "much_water": Sample("volume", "4 L", "1 US gal", "1 imp gal"),
    "pot": Sample("volume", "15 L", "4 US gal", "3 imp gal"),
}


def shown(template: str, **values: Value | str) -> Says:
    """A template with its values, and with the amounts of :data:`SAMPLES` that it names."""
    used = {name: one for name, one in SAMPLES.items() if f"{{{name}}}" in template}
    return say(template, **used, **values)
