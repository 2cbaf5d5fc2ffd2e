// Looking for words in the text, and putting others in their place: plain words, no patterns.
import { SearchQuery, closeSearchPanel, findNext, findPrevious, getSearchQuery, openSearchPanel, replaceAll, replaceNext, search, setSearchQuery } from "@codemirror/search";
import { made } from "./here.js";

function panel(view) {
  const before = getSearchQuery(view.state);
  const field = (label, value, act) => {
    const input = made("input", { autocomplete: "off", spellcheck: "false", oninput: asked, onkeydown: (event) => {
      if (event.key === "Enter") { event.preventDefault(); act(); }
    } });
    input.value = value;
    return [made("label", {}, label, input), input];
  };
  const button = (words, act) => made("button", { type: "button", onclick: act }, words);
  const done = () => { closeSearchPanel(view); view.focus(); };
  function asked() {
    const query = new SearchQuery({ search: find.value, replace: other.value, literal: true });
    if (!query.eq(getSearchQuery(view.state))) view.dispatch({ effects: setSearchQuery.of(query) });
  }
  const [findBox, find] = field("Look for", before.search, () => findNext(view));
  const [otherBox, other] = field("Put instead", before.replace, () => replaceNext(view));
  find.setAttribute("main-field", "true"); // where the library puts the cursor when it is opened again
  const dom = made("div", { class: "finding", role: "search", onkeydown: (event) => { if (event.key === "Escape") done(); } },
    findBox, button("The next", () => findNext(view)), button("The one before", () => findPrevious(view)), button("Done", done),
    otherBox, button("Put it here", () => replaceNext(view)), button("Put it everywhere", () => replaceAll(view)));
  return { dom, top: true, mount: () => { asked(); find.select(); } };
}
export const finding = search({ top: true, literal: true, createPanel: panel });
export const findingKeys = [
  { key: "Mod-f", run: openSearchPanel },
  { key: "F3", run: findNext, shift: findPrevious, preventDefault: true },
];
