/** Hands a file to the person: the browser keeps it where downloads go. */
export function saveFile(name: string, file: Blob): void {
  const address = URL.createObjectURL(file);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  URL.revokeObjectURL(address);
}

/** Without the signs that some file systems refuse. */
export function fileName(name: string): string {
  return name.replace(/[^\p{L}\p{N} ._-]+/gu, ' ').trim();
}
