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

  // Customary amounts as a kitchen's scale and jugs tell them; see kitchen.py, which a test
  // holds this against.
  const kitchen = sums.kitchen;
  const SIGNS = { "1/8": "⅛", "1/4": "¼", "3/8": "⅜", "1/2": "½", "5/8": "⅝", "3/4": "¾", "7/8": "⅞" };
  const away = (a, b) => { const gap = plus(a, times([-1n, 1n], b)); return less(gap, [0n, 1n]) ? times([-1n, 1n], gap) : gap; };
  const within = (a, b, share) => !less(times(b, share), away(a, b));
  const inEighths = (value) => {
    const whole = floor(value);
    const eighths = floor(times(plus(value, [-whole, 1n]), [8n, 1n]));
    const key = eighths % 4n === 0n ? eighths / 4n + "/2" : eighths % 2n === 0n ? eighths / 2n + "/4" : eighths + "/8";
    return (whole || "") + (eighths ? SIGNS[key] : "") || "0";
  };
  const ranged = (first, last, unit) => (first === last ? first : first + " to " + last) + "\u00a0" + unit;
  const toStep = (value, parts) => [floor(plus(times(value, [parts, 1n]), [1n, 2n])), parts];
  const quarters = (value) => {
    const near = toStep(value, 4n);
    const strays = !within(near, value, fraction(kitchen.exact)) || less(fraction(kitchen.near), away(near, value));
    return (near[0] || !value[0]) && !strays ? near : null;
  };
  const eighths = (value) => {
    const near = toStep(value, 8n);
    return near[0] && less(value, [1n, 1n]) && within(near, value, fraction(kitchen.exact)) ? near : null;
  };
  const told = (value) => quarters(value) || (!less(value, [1n, 2n]) && eighths(value)) || toStep(value, 10n);
  const figures = (value) => toStep(value, less(value, [10n, 1n]) ? 100n : 10n);
  const ounces = (value) => (value[0] * 8n) % value[1] === 0n ? inEighths(value) : decimal(value);
  const pounds = (value) => {
    const whole = floor(over(value, [16n, 1n]));
    const rest = plus(value, [-whole * 16n, 1n]);
    const parts = whole ? [whole + "\u00a0lb"] : [];
    if (rest[0] || !whole) parts.push(ounces(rest) + "\u00a0oz");
    return parts.join("\u00a0");
  };
  const kitchenMass = (low, high, fine) => {
    const ounce = fraction(kitchen.ounce);
    const pound = times(ounce, [16n, 1n]);
    const inPounds = [low, high].map((end) => quarters(over(end, pound)));
    const nearly = times(pound, plus([1n, 1n], times([-1n, 1n], fraction(kitchen.exact))));
    if (!less(high, nearly) && inPounds.every((end) => end)) return ranged(...inPounds.map(inEighths), "lb");
    const ends = [low, high].map((end) => over(end, ounce));
    const said = ends.map(told);
    const many = !less(said[1], [16n, 1n]);
    const little = less(ends[1], [1n, 2n]);
    const part = (end) => quarters(end) || eighths(end);
    const parts = (end) => (part(end) ? inEighths(part(end)) : decimal(figures(end)));
    if (fine && !many && !little) return ranged(...ends.map(parts), "oz");
    if (many) {
      const [first, last] = said.map(pounds);
      return first === last ? first : first + " to " + last;
    }
    const coarse = little && ends.some((end, at) => !within(said[at], end, fraction(kitchen.coarse)));
    if (!coarse && !(fine && little)) return ranged(...said.map(ounces), "oz");
    const grams = ranged(...[low, high].map((end) => decimal(toStep(end, less(end, [1n, 1n]) ? 100n : 10n))), "g");
    if (!said[1][0] || (low[0] && !said[0][0])) return grams;
    if (fine) return ranged(...ends.map(parts), "oz") + " (" + grams + ")";
    const small = (end) => (eighths(end) ? inEighths(eighths(end)) : decimal(toStep(end, less(end, [1n, 10n]) ? 1000n : 100n)));
    return ranged(...ends.map(small), "oz") + " (" + grams + ")";
  };
  const plainest = (value) => {
    for (const parts of [1n, 2n, 4n, 8n]) {
      const near = toStep(value, parts);
      if (near[0] && within(near, value, fraction(kitchen.strays))) return near;
    }
    return null;
  };
  const kitchenVolume = (low, high) => {
    const units = kitchen.volumes;
    const many = kitchen.gallons && !less(high, fraction(kitchen.gallons));
    for (const [name, text] of units) {
      const holds = fraction(text);
      if (name === "imp pt" && many) break;
      if (less(over(high, holds), fraction(kitchen.least)) && name !== units[units.length - 1][0]) continue;
      if (less(fraction(kitchen.most), over(high, holds)) && name !== units[0][0]) continue;
      const ends = [low, high].map((end) => (end[0] ? plainest(over(end, holds)) : [0n, 1n]));
      if (ends.every((end) => end)) return ranged(...ends.map(inEighths), name);
    }
    if (!many || low[0] * high[1] !== high[0] * low[1]) return "";
    const pints = toStep(over(high, fraction(kitchen.pint)), 2n);
    const whole = floor(over(pints, [8n, 1n]));
    const rest = plus(pints, [-whole * 8n, 1n]);
    return whole + "\u00a0imp\u00a0gal" + (rest[0] ? " " + inEighths(rest) + "\u00a0pt" : "");
  };
  const inKitchen = (kind, low, high) => {
    if (!kitchen) return "";
    if (kind === "volume") return kitchen.volumes.length ? kitchenVolume(low, high) : "";
    return kitchen.ounce ? kitchenMass(low, high, kind !== "mass") : "";
  };

  const amount = (kind, low, high, about) => {
    const said = inKitchen(kind, low, high);
    if (said) return about + said;
    if (kind !== "volume") kind = "mass";
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
  };

  // ---------------------------------------------------------------- pots

  const grownLow = (pot, grams) => grown(pot.grows[0], pot.grows[1], grams);
  const grownHigh = (pot, grams) => grown(pot.grows[2], pot.grows[3], grams);
  const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

  // Each pot once, by what fills it most: [pot, litres in it].
  const fullest = (pots, grams) => {
    const found = new Map();
    for (const pot of pots) {
      const litres = grownLow(pot, grams);
      const before = found.get(pot.pot);
      if (!before || less(before[1], litres)) found.set(pot.pot, [pot, litres]);
    }
    return [...found.values()];
  };
  const listed = (pots, limit, grams) => fullest(pots, grams).map(([pot, litres]) =>
    pot.pot + " (" + amount("volume", litres, litres, "") + " with " + pot.bath + " in it; " +
    limit(pot) + ")").join(", ");
  const ceiling = (value) => -floor(times([-1n, 1n], value));
  const mostBatches = (pots, grams) => pots.reduce((most, pot) => {
    const room = fraction(pot.batch);
    const number = room[0] ? ceiling(over(grownHigh(pot, grams), room)) : 0n;
    return number > most ? number : most;
  }, 0n);

  // As the checker has it: what does not go in is an error, what is too full to work a warning.
  const pots = (grams) => {
    const known = sums.pots.filter((pot) => pot.grows);
    const small = known.filter((pot) => less(fraction(pot.holds), grownLow(pot, grams)));
    const full = known.filter((pot) => !small.includes(pot) &&
      less(fraction(pot.works), grownLow(pot, grams)));
    const lines = [];
    const litres = (text) => amount("volume", fraction(text), fraction(text), "");
    if (small.length) {
      lines.push("Too small: " + listed(small, (pot) => "it holds " + litres(pot.holds), grams) + ".");
    }
    if (full.length) {
      lines.push("Too full to work: " +
        listed(full, (pot) => litres(pot.works) + " is the most", grams) + ".");
    }
    const batches = mostBatches([...small, ...full], grams);
    if (lines.length && batches > 1n) {
      lines.push("Use larger pots, or divide the fibre into " + batches + " batches or more.");
    } else if (lines.length) lines.push("Use larger pots, or less liquor.");
    const unknown = [...new Set(sums.pots.filter((pot) => !pot.grows).map((pot) => pot.pot))];
    if (unknown.length) lines.push("Whether all fits is for you to see: " + unknown.join(", ") + ".");
    return { draft: small.length > 0, lines };
  };

  // ---------------------------------------------------------------- what stays as written

  const STAYS = "for the weight as written";
  const DRAFT = "DRAFT";
  let added = [];
  let hidden = [];

  const made = (tag, css, text) => {
    const element = document.createElement(tag);
    element.className = css;
    element.textContent = text;
    added.push(element);
    return element;
  };

  const asWritten = () => {
    for (const element of added) element.remove();
    for (const element of hidden) element.hidden = false;
    added = [];
    hidden = [];
    document.body.classList.remove("draft");
  };

  const lots = (grams) => sums.lots.map((piece) => {
    if (typeof piece === "string") return piece;
    const [low, lowEach, high, highEach] = piece[1].split(" ");
    return amount(piece[0], grown(low, lowEach, grams), grown(high, highEach, grams), "");
  }).join("");

  const forAnother = (grams, draft) => {
    for (const words of document.querySelectorAll("[data-weight]")) {
      words.before(made("span", "stays", "(" + STAYS + ") "));
      if (words.dataset.weight === "makes" && sums.lots.length) {
        words.parentNode.append(made("span", "", " At this weight: " + lots(grams) + "."));
      }
    }
    for (const figure of document.querySelectorAll(".amount:not([data-grows])")) {
      if (!figure.closest("#gathering")) figure.after(made("span", "stays", " (" + STAYS + ")"));
    }
    for (const name of ["warned", "before", "chart"]) {
      const title = document.getElementById(name + "-title");
      if (title) title.after(made("p", "quiet stays", capital(STAYS) + ":"));
    }
    for (const days of document.querySelectorAll("#steps > .days")) {
      const nights = [];
      for (let next = days.nextElementSibling; next && next.matches("p.warning");
        next = next.nextElementSibling) nights.push(next);
      days.before(made("p", "quiet stays",
        "The days and hours were planned " + STAYS + ", and are left out for another."));
      for (const element of [days, ...nights]) {
        element.hidden = true;
        hidden.push(element);
      }
    }
    if (!draft) return;
    const mark = made("div", "draft-mark", DRAFT);
    mark.setAttribute("aria-hidden", "true");
    document.body.prepend(mark);
    document.querySelector("h1").after(made("p", "stamp", DRAFT));
    document.body.classList.add("draft");
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
      made.textContent = line;
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
    work(grams);
    asWritten();
    if (!less(grams, written) && !less(written, grams)) {
      tell(["This is the weight as written."]);
      return;
    }
    const { draft, lines } = pots(grams);
    forAnother(grams, draft);
    tell([
      "All amounts below are now for this weight. Of all else only the pots are checked for it.",
      ...(draft ? ["This is a draft now: nobody should work from it."] : []), ...lines]);
  });
  box.addEventListener("reset", () => { work(written); asWritten(); tell([]); });
  box.hidden = false;
})();
