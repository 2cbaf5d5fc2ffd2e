"""What colour two or more layers of dye give together, as a rule of thumb."""

from __future__ import annotations

from collections.abc import Sequence
from math import prod

from procedure.colour.space import Colour, channel_of_light, from_hex, light_of_channel

# The least light that dyed fibre sends back in any channel (the project's choice).
LEAST_LIGHT = 0.02


def layered(colours: Sequence[str]) -> Colour:
    """An estimate of fibre that was dyed in each of these colours (``#f3c300``) in turn.

    In red, green and blue it sends back the geometric mean of the light that each alone would.
    S. A. Burns, Subtractive Color Mixture Computation (2015, revised 2020) mixes paints so, by
    whole reflectance curves; that three channels do for an estimate is a rule of this project.
    No measured colour. Raises ``ValueError`` for what is no colour.
    """
    channels = [
        [int(text[at : at + 2], 16) / 255 for at in (1, 3, 5)] if from_hex(text) else []
        for text in colours
    ]
    lights = [[max(light_of_channel(one), LEAST_LIGHT) for one in three] for three in channels]
    mixed = [prod(light) ** (1 / len(colours)) for light in zip(*lights, strict=True)]
    return from_hex("#" + "".join(f"{round(255 * channel_of_light(one)):02x}" for one in mixed))
