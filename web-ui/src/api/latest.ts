/**
 * One question at a time, the newest next: while an answer is on its way only the latest of the
 * questions that follow is kept, so that a moving control is answered as fast as the server can.
 */
export class Latest<Q, A> {
  #waiting: Q | undefined;
  #busy = false;

  constructor(
    private readonly ask: (question: Q) => Promise<A>,
    private readonly onAnswer: (answer: A, question: Q) => void,
    private readonly onError: (error: unknown) => void,
  ) {}

  put(question: Q): void {
    this.#waiting = question;
    if (!this.#busy) void this.#run();
  }

  async #run(): Promise<void> {
    this.#busy = true;
    while (this.#waiting !== undefined) {
      const question = this.#waiting;
      this.#waiting = undefined;
      try {
        const answer = await this.ask(question);
        this.onAnswer(answer, question);
      } catch (error) {
        // a newer question may well be answered: only the last failure is told
        if (this.#waiting === undefined) this.onError(error);
      }
    }
    this.#busy = false;
  }
}
