// Files that the page hands to the browser by itself, asked for by a press.

export function save_text(text: string, file_name: string, type: string): void {
  save_blob(new Blob([text], { type }), file_name);
}

export function save_blob(blob: Blob, file_name: string): void {
  const address = URL.createObjectURL(blob);
  const link = document.createElement('a');
  link.href = address;
  link.download = file_name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 1000);
}
