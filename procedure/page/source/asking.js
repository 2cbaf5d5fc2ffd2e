// The transport: one question to the server that gave the page. Nothing goes elsewhere.
export async function asked(name, question) {
  try {
    const answer = await fetch(name, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(question) });
    return await answer.json();
  } catch {
    return { why: "The program behind this page has ended. Start it again; this text is still here." };
  }
}
// The served page needs no more buttons: its files are on the disk already.
export function more() {}
