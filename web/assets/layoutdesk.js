// The changes of the page on their way to the server: one request at a time, in
// order. Of the steps of one gesture that wait only the last is sent, so that
// the proof follows the hand however fast it is.

import { post, get } from "./api.js";
import { state, tell } from "./state.js";

export class Desk {
  /**
   * @param said called with a Fault, or null when a change was taken
   * @param shown gives a promise of the card being shown as it now is
   */
  constructor(said, shown) {
    this.said = said;
    this.shown = shown;
    this.waiting = [];
    this.busy = null;
    this.gesture = ""; // of the change under way
  }

  /** lay sends changes; those of the same gesture are undone as one. */
  lay(changes, gesture = "") {
    const last = this.waiting.at(-1);
    if (gesture && last?.gesture === gesture) last.changes = changes;
    else this.waiting.push({ path: "layout", changes, gesture });
    return this.go();
  }

  undo() { return this.ask("undo"); }
  redo() { return this.ask("redo"); }
  ask(path) { this.waiting.push({ path }); return this.go(); }

  go() {
    this.busy ??= this.run().finally(() => { this.busy = null; });
    return this.busy;
  }

  async run() {
    while (this.waiting.length) {
      const { path, changes, gesture } = this.waiting.shift();
      if (!changes && !state.bench[path]) continue; // keys are faster than answers
      this.gesture = gesture;
      try {
        await take(await post(path, changes ? { revision: state.bench.revision, gesture, changes } : {}));
        this.said(null);
      } catch (e) {
        this.waiting = [];
        await take(await get("bench"));
        this.said(e);
      }
      if (gesture) await this.shown(); // a hand is not to run away from its proof
    }
  }

  /** save writes the file; instead is "keep" or "reload" where it was changed. */
  async save(instead = "") {
    await this.busy;
    const answer = await post("save", { revision: state.bench.revision, instead });
    await take(answer);
    return answer.kept ?? "";
  }
}

/** take puts another state of the programme into the page: with its ribbon, where
 *  that is another, as it may be after the file was taken up from disk. */
export async function take(bench) {
  if (bench.light !== state.bench.light) state.light = await get("light");
  const other = bench.revision !== state.bench.revision;
  state.bench = bench;
  tell("bench");
  if (other) tell("card");
}
