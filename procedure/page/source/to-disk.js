// A text, given to the person as a file of its own.
export function copy(name, text) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type: "text/plain" }));
  link.download = name.split("/").at(-1);
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
