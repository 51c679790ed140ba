// The floor's page loads again without the program, where the browser allows that: over HTTPS and on the program's
// own machine.

/** Whether this browser keeps the pages here. */
export async function keep_pages(): Promise<boolean> {
  if (!isSecureContext || !('serviceWorker' in navigator)) return false;
  try {
    await navigator.serviceWorker.register('/worker.js', { updateViaCache: 'none' });
    return true;
  } catch {
    // A certificate that this device does not trust: the open tab and the saved file serve all the same.
    return false;
  }
}
