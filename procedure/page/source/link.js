// A link that carries a text behind its “#”, with its name, and with a sum at the end (CRC-32, as in
// ISO/IEC 13239), so that a link that was cut on its way is known for one.
function sum(bytes) {
  let made = ~0;
  for (const byte of bytes) {
    made ^= byte;
    for (let bit = 0; bit < 8; bit++) made = (made >>> 1) ^ (0xedb88320 & -(made & 1));
  }
  return (~made >>> 0).toString(16).padStart(8, "0");
}
export function linkTo(file, text) {
  const bytes = new TextEncoder().encode(text);
  const said = btoa(Array.from(bytes, (b) => String.fromCharCode(b)).join("")).replace(/\+/g, "-").replace(/\//g, "_");
  return `${location.href.split("#")[0]}#name=${encodeURIComponent(file)}&text=${said}&sum=${sum(bytes)}`;
}
const CUT = "The link was cut on its way, and a part of the text is missing. Ask for it once more.";
// The text of a link with its name, and what is to be said of it; null where there is none.
export function textOf(hash) {
  if (!/^#(name|text)=/.test(hash)) return null;
  const said = Object.fromEntries(hash.slice(1).split("&").map((part) => [part.slice(0, part.indexOf("=")), part.slice(part.indexOf("=") + 1)]));
  try {
    const letters = said.text.replace(/[^\w-]/g, "");
    const whole = letters.slice(0, letters.length - (letters.length % 4 === 1));
    const bytes = Uint8Array.from(atob(whole.replace(/-/g, "+").replace(/_/g, "/")), (c) => c.charCodeAt(0));
    const name = decodeURIComponent(said.name ?? "shared.dye");
    return { name, text: new TextDecoder().decode(bytes).replace(/\r\n?/g, "\n"), said: said.sum === sum(bytes) ? "" : CUT };
  } catch { return { why: "The link cannot be read. Ask for it once more." }; }
}
