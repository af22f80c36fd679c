export type Held = 'shop' | 'pour'

/** Which of two documents each step changed, so that undo walks back through both in the order of the steps. */
export class StepOrder {
  #past: Held[] = []
  #future: Held[] = []

  note(held: Held): void {
    this.#past.push(held)
    this.#future = []
  }

  back(): Held | undefined {
    const held = this.#past.pop()
    if (held !== undefined) this.#future.push(held)
    return held
  }

  forth(): Held | undefined {
    const held = this.#future.pop()
    if (held !== undefined) this.#past.push(held)
    return held
  }
}
