/** A document whose step the page holds, or `kept` where the step was made on an earlier visit and the server keeps it. */
export type Held = 'shop' | 'pour' | 'kept'

/** Which of two documents each step changed, so that undo walks back through both in the order of the steps. */
export class StepOrder {
  #past: Held[] = []
  #future: Held[] = []
  #futureBefore: Held[] = []

  note(held: Held): void {
    this.#past.push(held)
    this.#futureBefore = this.#future
    this.#future = []
  }

  /** The latest step of this document was none after all. */
  forget(held: Held): void {
    const at = this.#past.lastIndexOf(held)
    if (at < 0) return
    if (at === this.#past.length - 1) this.#future = this.#futureBefore
    this.#past.splice(at, 1)
  }

  /** A step back past all that is noted here, or forth past all that was undone here. */
  wentPast(way: 'back' | 'forth'): void {
    if (way === 'back') this.#future.push('kept')
    else this.#past.push('kept')
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
