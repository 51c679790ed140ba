// A photo as a phone takes it, made small enough to be kept.
const longest_side = 1280;
const most_bytes = 300_000;

export type Shrunk = { type: 'image/jpeg'; data: string };

async function base64_of(blob: Blob): Promise<string> {
  const bytes = new Uint8Array(await blob.arrayBuffer());
  let text = '';
  for (let at = 0; at < bytes.length; at += 0x8000) text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
}

function as_jpeg(canvas: HTMLCanvasElement, quality: number): Promise<Blob> {
  return new Promise((resolve, reject) => {
    canvas.toBlob((blob) => (blob ? resolve(blob) : reject(new Error('this browser makes no picture of it'))), 'image/jpeg', quality);
  });
}

/** Throws where the file is no picture that this browser reads. */
export async function shrunk(file: Blob): Promise<Shrunk> {
  const picture = await createImageBitmap(file);
  for (let side = longest_side, quality = 0.85; ; side = Math.round(side * 0.75), quality = 0.75) {
    const scale = Math.min(1, side / Math.max(picture.width, picture.height));
    const canvas = document.createElement('canvas');
    canvas.width = Math.max(1, Math.round(picture.width * scale));
    canvas.height = Math.max(1, Math.round(picture.height * scale));
    const drawing = canvas.getContext('2d');
    if (!drawing) throw new Error('this browser makes no picture of it');
    drawing.fillStyle = 'white';
    drawing.fillRect(0, 0, canvas.width, canvas.height);
    drawing.drawImage(picture, 0, 0, canvas.width, canvas.height);
    const blob = await as_jpeg(canvas, quality);
    if (blob.size <= most_bytes || side < 300) return { type: 'image/jpeg', data: await base64_of(blob) };
  }
}
