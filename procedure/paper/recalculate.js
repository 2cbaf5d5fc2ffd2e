"use strict";
// Works out every amount of the handout for another weight of fibre. How an amount goes
// with the fibre, and how it is rounded, came with the page; nothing is rounded before
// it is printed. Whole numbers of any size stand for both parts of a fraction.
(() => {
  const box = document.getElementById("fibre-box");
  if (!box) return;
  const sums = JSON.parse(box.dataset.sums);
  const fraction = (text) => {
    const [top, bottom] = text.split("/");
    return [BigInt(top), BigInt(bottom || "1")];
  };
  const plus = ([a, b], [c, d]) => [a * d + c * b, b * d];
  const times = ([a, b], [c, d]) => [a * c, b * d];
  const over = ([a, b], [c, d]) => [a * d, b * c];
  const less = ([a, b], [c, d]) => a * d < c * b;
  const floor = ([a, b]) => (a >= 0n ? a / b : -((-a + b - 1n) / b));
  const nearest = (value, step) =>
    times([floor(plus(over(value, step), [1n, 2n])), 1n], step);

  const decimal = ([top, bottom]) => {
    let places = 0;
    while (top % bottom !== 0n) { top *= 10n; places += 1; }
    const digits = (top / bottom).toString().padStart(places + 1, "0");
    const cut = digits.length - places;
    return places ? digits.slice(0, cut) + "." + digits.slice(cut) : digits;
  };

  const withRest = (scale, value) => {
    const large = fraction(scale.inLarge);
    const whole = floor(over(value, large));
    const rest = plus(value, times([-whole, 1n], large));
    const parts = [];
    if (whole > 0n) parts.push(whole + "\u00a0" + scale.large);
    if (rest[0] !== 0n || whole === 0n) parts.push(decimal(rest) + "\u00a0" + scale.unit);
    return parts.join("\u00a0");
  };

  const onScale = (scale, low, high) => {
    let holds = fraction(scale.holds);
    if (scale.small && less(over(high, holds), fraction(scale.few))) {
      scale = scale.small;
      holds = fraction(scale.holds);
    }
    let least = over(low, holds);
    let most = over(high, holds);
    const by = least[0] !== 0n ? least : most;
    const step = fraction(scale.steps.find(([above]) => !less(by, fraction(above)))[1]);
    least = nearest(least, step);
    most = nearest(most, step);
    let first, last, unit = scale.unit;
    if (scale.large && !less(most, fraction(scale.inLarge))) {
      if (scale.withRest) {
        first = withRest(scale, least);
        last = withRest(scale, most);
        return first === last ? first : first + " to " + last;
      }
      first = decimal(over(least, fraction(scale.inLarge)));
      last = decimal(over(most, fraction(scale.inLarge)));
      unit = scale.large;
    } else {
      first = decimal(least);
      last = decimal(most);
    }
    return (first === last ? first : first + " to " + last) + "\u00a0" + unit;
  };

  const amount = (kind, low, high, about) => {
    const [first, ...rest] = sums.systems.map((system) => onScale(system[kind], low, high));
    return about + first + (rest.length ? " (" + rest.join("; ") + ")" : "");
  };

  const grown = (constant, each, grams) =>
    plus(fraction(constant), times(fraction(each), grams));

  const spans = [...document.querySelectorAll("[data-grows]")]
    .filter((span) => !span.closest("#gathering"));

  const work = (grams) => {
    for (const span of spans) {
      const [low, lowEach, high, highEach] = span.dataset.grows.split(" ");
      span.textContent = amount(
        span.dataset.kind, grown(low, lowEach, grams), grown(high, highEach, grams),
        span.dataset.about || "");
    }
    const full = sums.pots.filter((pot) => pot.grows &&
      less(fraction(pot.room), grown(...pot.grows, grams)));
    return full.map((pot) => {
      const needs = grown(...pot.grows, grams);
      return pot.pot + " is too small for " + pot.bath + " (" +
        amount("volume", needs, needs, "") + " with what is in it, and " +
        amount("volume", fraction(pot.room), fraction(pot.room), "") + " to work in).";
    });
  };

  const weight = document.getElementById("fibre-weight");
  const unit = document.getElementById("fibre-unit");
  const said = document.getElementById("fibre-said");
  const written = fraction(box.dataset.fibre);
  const most = [100000000n, 1n];

  const tell = (lines) => {
    said.replaceChildren(...lines.map((line) => {
      const made = document.createElement("span");
      made.style.display = "block";
      made.textContent = line.charAt(0).toUpperCase() + line.slice(1);
      return made;
    }));
  };

  box.addEventListener("submit", (event) => {
    event.preventDefault();
    const found = /^\s*(\d{1,12})(?:[.,](\d{1,9}))?\s*$/.exec(weight.value);
    const digits = found && [BigInt(found[1] + (found[2] || "")), 10n ** BigInt((found[2] || "").length)];
    if (!digits || digits[0] === 0n) {
      tell(["Write a weight above nothing, such as 250."]);
      return;
    }
    const grams = times(digits, fraction(unit.value));
    if (less(most, grams)) {
      tell(["That is more fibre than any pot holds."]);
      return;
    }
    const full = work(grams);
    tell(["All amounts below are now for this weight.", ...full,
      ...(full.length ? ["Divide the fibre into batches."] : [])]);
  });
  box.addEventListener("reset", () => { work(written); tell([]); });
  box.hidden = false;
})();
