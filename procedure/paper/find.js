"use strict";
// Hides what does not hold all the words that are looked for. Without it everything shows.
(() => {
  const form = document.getElementById("find");
  const words = document.getElementById("words");
  const found = document.getElementById("found");
  const lines = [...document.querySelectorAll("#all-of-them li")];
  const look = () => {
    const wanted = words.value.toLowerCase().split(/\s+/).filter(Boolean);
    let count = 0;
    for (const line of lines) {
      const fits = wanted.every((word) => line.dataset.words.includes(word));
      line.hidden = !fits;
      count += fits ? 1 : 0;
    }
    found.textContent = wanted.length ? count + " of " + lines.length : "";
  };
  words.addEventListener("input", look);
  form.addEventListener("submit", (event) => { event.preventDefault(); look(); });
  form.hidden = false;
})();
