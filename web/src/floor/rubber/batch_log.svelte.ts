// What the log tells of a batch: its motors that broke while winding, and how far the others held.
import { answer, client } from '../../api/client';
import type { LoggedMotor } from '../../api/rubber';

export class BatchLog {
  motors = $state.raw<readonly LoggedMotor[]>([]);
  /** The log could not be read. */
  silent = $state(false);
  #of: string | null = null;
  #asked = 0;

  /** Of the batch with this id; null: of none. */
  read(id: string | null): void {
    if (id !== this.#of) this.motors = [];
    this.#of = id;
    const ask = ++this.#asked;
    if (id === null) return;
    void answer(client.GET('/api/rubbers/{id}/log', { params: { path: { id } } })).then(
      ({ body }) => {
        if (ask !== this.#asked) return;
        this.motors = body.motors;
        this.silent = false;
      },
      () => {
        if (ask === this.#asked) this.silent = true;
      },
    );
  }
}
