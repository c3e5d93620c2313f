// What a view has changed in the programme: said in words, with what can be done
// about it: take it back, make it again, save it to the file.

import { h, swap } from "./dom.js";
import { w } from "./words.js";
import { post, get } from "./api.js";
import { state, on } from "./state.js";
import { take } from "./layoutdesk.js";
import { askRun } from "./runstate.js";
import { address } from "./route.js";

/** Changed is the line that says so; el is to be put into the view. */
export class Changed {
  constructor(signal, before = () => {}) {
    this.before = before;
    this.text = "";
    this.said = h("p", { class: "rule-set", id: "rule-set", role: "status" });
    this.buttons = h("p", { class: "buttons" });
    this.el = h("div", { class: "changed" }, this.said, this.buttons);
    on("bench", () => this.draw(), signal);
    this.draw();
  }

  /** say tells what was done. */
  say(text) { this.text = text; this.draw(); }

  draw() {
    const b = state.bench, focused = this.buttons.contains(document.activeElement) ? document.activeElement.id : "";
    swap(this.said, [this.text, b.unsaved ? w.changed.unsaved : ""].flat().filter(Boolean).flatMap((t) => [t, " "]));
    const button = (id, text, act) => h("button", { type: "button", id, onclick: act }, text);
    swap(this.buttons, b.undo ? button("undo", w.layout.undo, () => this.turn("undo", {}, "")) : null, b.redo ? button("redo", w.layout.redo, () => this.turn("redo", {}, "")) : null,
      b.unsaved ? button("save", w.changed.save, () => this.save()) : null);
    if (focused) (document.getElementById(focused) ?? this.buttons.firstChild)?.focus({ preventScroll: true });
  }

  /** turn asks for a change, shows what comes of it and says whether it was made. */
  async turn(path, body, done, waiting = w.rules.trying) {
    this.before(path);
    swap(this.said, waiting);
    try {
      this.text = done;
      await take(await post(path, body));
    } catch (e) {
      this.say([w.layout.refused, english(e)]);
      return false;
    }
    this.draw();
    askRun();
    return true;
  }

  async save() {
    try {
      this.text = w.changed.saved;
      await take(await post("save", { revision: state.bench.revision, instead: "" }));
    } catch (e) {
      const now = await get("bench").catch(() => state.bench);
      this.text = now.changedOnDisk ? [w.layout.conflict, h("a", { href: address("layout") }, w.changed.settle)] : [w.layout.refused, english(e)];
      await take(now);
    }
  }
}

const english = (e) => h("span", { lang: "en" }, e.message, e.hint ? ": " + e.hint : "");
