// What one tab tells the others of this browser: which flights it changed on the shelf they share.
const channel_name = 'propwright-floor';

export class Talk {
  #channel: BroadcastChannel | null = null;

  /** `heard`: the ids that another tab changed; null for very many. */
  listen(heard: (ids: readonly string[] | null) => void): void {
    try {
      this.#channel = new BroadcastChannel(channel_name);
      this.#channel.onmessage = ({ data }: MessageEvent<{ ids: readonly string[] | null }>) => heard(data.ids);
    } catch {
      // None in this browser: the shelf is read again before each sending and at each look at the page.
    }
  }

  get there(): boolean {
    return this.#channel !== null;
  }

  tell(ids: readonly string[]): void {
    this.#channel?.postMessage({ ids: ids.length > 500 ? null : ids });
  }
}
