// One request under way at a time; while it is, only the newest state waits, and it is always sent.

export class Latest<State, Answer> {
  #busy = false;
  #waiting: { state: State } | null = null;

  constructor(
    private readonly send: (state: State) => Promise<Answer>,
    private readonly arrived: (answer: Answer, state: State, newest: boolean) => void,
    private readonly failed: (error: unknown, state: State) => void,
  ) {}

  get busy(): boolean {
    return this.#busy;
  }

  submit(state: State): void {
    if (this.#busy) this.#waiting = { state };
    else void this.#run(state);
  }

  async #run(state: State): Promise<void> {
    this.#busy = true;
    try {
      const answer = await this.send(state);
      this.arrived(answer, state, this.#waiting === null);
    } catch (error) {
      this.failed(error, state);
    } finally {
      this.#busy = false;
      const next = this.#waiting;
      this.#waiting = null;
      if (next) void this.#run(next.state);
    }
  }
}
