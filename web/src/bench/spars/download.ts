// Files that the page hands to the browser by itself, asked for by a press.

/** "Batch 7" as part of a file's name: "batch-7". */
export const file_word = (name: string): string => name.toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '') || 'spars';

export function save(href: string, file_name: string): void {
  const link = document.createElement('a');
  link.href = href;
  link.download = file_name;
  link.click();
}

export function save_text(text: string, file_name: string): void {
  const address = URL.createObjectURL(new Blob([text], { type: 'text/csv' }));
  save(address, file_name);
  setTimeout(() => URL.revokeObjectURL(address), 1000);
}
