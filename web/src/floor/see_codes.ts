// QR codes out of pictures: by the browser's own reader where it has one, else by a library.
import jsQR from 'jsqr';

type Reader = (picture: HTMLVideoElement | ImageBitmap, width: number, height: number) => Promise<string[]>;
type Detector = { detect(picture: ImageBitmapSource): Promise<{ rawValue: string }[]> };

/** Larger pictures take longer and are read no better. */
const longest_side = 1600;

function by_library(): Reader {
  const canvas = document.createElement('canvas');
  const drawing = canvas.getContext('2d', { willReadFrequently: true });
  return (picture, width, height) => {
    const scale = Math.min(1, longest_side / Math.max(width, height));
    canvas.width = Math.round(width * scale);
    canvas.height = Math.round(height * scale);
    if (!drawing || canvas.width === 0 || canvas.height === 0) return Promise.resolve([]);
    drawing.drawImage(picture, 0, 0, canvas.width, canvas.height);
    const { data } = drawing.getImageData(0, 0, canvas.width, canvas.height);
    const found = jsQR(data, canvas.width, canvas.height);
    return Promise.resolve(found ? [found.data] : []);
  };
}

async function own_reader(): Promise<Detector | null> {
  const made = (globalThis as { BarcodeDetector?: { new (options: { formats: string[] }): Detector; getSupportedFormats(): Promise<string[]> } }).BarcodeDetector;
  if (!made) return null;
  const formats = await made.getSupportedFormats().catch(() => [] as string[]);
  return formats.includes('qr_code') ? new made({ formats: ['qr_code'] }) : null;
}

/** Reads the codes in a picture; the library sees one in each. */
export async function code_reader(): Promise<Reader> {
  const library = by_library();
  const own = await own_reader();
  if (!own) return library;
  return async (picture, width, height) => {
    const found = await own.detect(picture).catch(() => []);
    return found.length > 0 ? found.map(({ rawValue }) => rawValue) : library(picture, width, height);
  };
}

export async function codes_in_file(file: Blob): Promise<string[]> {
  const picture = await createImageBitmap(file);
  return (await code_reader())(picture, picture.width, picture.height);
}

/** Looks through the camera until told to stop. Throws where there is no camera or it is not allowed. */
export async function watch_camera(video: HTMLVideoElement, seen: (text: string) => void): Promise<() => void> {
  const stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment', width: { ideal: 1280 } }, audio: false });
  const reader = await code_reader();
  video.srcObject = stream;
  await video.play();
  let stopped = false;
  const look = async (): Promise<void> => {
    if (stopped) return;
    if (video.videoWidth > 0) for (const text of await reader(video, video.videoWidth, video.videoHeight)) seen(text);
    setTimeout(() => void look(), 120);
  };
  void look();
  return () => {
    stopped = true;
    for (const track of stream.getTracks()) track.stop();
    video.srcObject = null;
  };
}
