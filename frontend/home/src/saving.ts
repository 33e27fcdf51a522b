/** Handing a file to the browser's downloads. */

export function saveFile(name: string, text: string, type: string): void {
  const url = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement("a");
  link.href = url;
  link.download = name.replace(/[\\/:*?"<>|]+/g, "-");
  link.click();
  setTimeout(() => URL.revokeObjectURL(url));
}
