"use strict";
// Hides what does not hold all the words that are looked for. Without it everything shows.
(() => {
  const form = document.getElementById("find");
  const words = document.getElementById("words");
  const found = document.getElementById("found");
  const lists = [...document.querySelectorAll("section.by")];
  // American spellings find what is listed in British ones.
  const british = (text) => text.replace(/gray/g, "grey").replace(/color/g, "colour")
    .replace(/fiber/g, "fibre").replace(/sulf/g, "sulph");
  const lines = [...document.querySelectorAll(".procedures li")]
    .map((line) => [line, british(line.dataset.words)]);
  const look = () => {
    const wanted = british(words.value.toLowerCase()).split(/\s+/).filter(Boolean);
    let count = 0;
    for (const [line, said] of lines) {
      const fits = wanted.every((word) => said.includes(word));
      line.hidden = !fits;
      count += fits ? 1 : 0;
    }
    // The lists by plant, colour and fibre are for who does not search.
    for (const list of lists) list.hidden = wanted.length > 0;
    for (const list of document.querySelectorAll(".procedures")) {
      list.parentElement.hidden = !list.querySelector("li:not([hidden])");
    }
    const none = "Nothing here has all of these words. Try fewer, or another spelling.";
    found.textContent = wanted.length ? (count ? count + " of " + lines.length : none) : "";
  };
  words.addEventListener("input", look);
  form.addEventListener("submit", (event) => { event.preventDefault(); look(); });
  form.hidden = false;
})();
