/** Hands a file to the person: the browser keeps it where downloads go. */
export function saveFile(name: string, file: Blob): void {
  const address = URL.createObjectURL(file);
  saveFrom(address, name);
  // The download reads it in its own time.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/** The same of what stands under an address. */
export function saveFrom(address: string, name: string): void {
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
}

/** Without the signs that some file systems refuse. */
export function fileName(name: string): string {
  return name.replace(/[^\p{L}\p{N} ._-]+/gu, ' ').trim();
}
