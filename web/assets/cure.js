// What the bench itself can do about a finding. The server proves it on the card
// before it is offered, so the button comes a moment after the finding.

import { h, swap } from "./dom.js";
import { w, number } from "./words.js";
import { post } from "./api.js";
import { state } from "./state.js";

/**
 * offer is the place of the button; act(row, said, body) is called when it is
 * pressed, with the card that the remedy was tried on.
 */
export function offer(f, act) {
  if (f.id === "resin-unknown") return statements(act);
  if (!f.element || !f.side) return null;
  const place = h("p", { id: "remedy-offer", class: "aside" }, w.remedies.trying);
  ask(f, place, act);
  return place;
}

async function ask(f, place, act) {
  const row = !f.rows?.length || f.rows.includes(state.row) ? state.row : f.rows[0];
  const body = { revision: state.bench.revision, row, id: f.id, side: f.side, element: f.element, reader: f.reader ?? "" };
  const { remedy } = await post("remedy", body).catch(() => ({ remedy: null }));
  if (!remedy) return place.remove();
  const mm = (v) => number(v, 2).replace(/([.,]\d)0$/, "$1");
  const text = w.remedies[remedy.do](remedy, remedy.high ? `${mm(remedy.mm)} × ${mm(remedy.high)}` : mm(remedy.mm));
  place.classList.remove("aside");
  swap(place, h("button", { type: "button", id: "remedy-do", "data-do": remedy.do, onclick: () => act(row, w.remedies.done(text, remedy.element), { ...body, do: true }) }, text));
}

// What only the ribbon's maker can say is the user's to state; nothing is tried.
function statements(act) {
  const button = (resin) => h("button", { type: "button", "data-state": resin, onclick: () => act(state.row, w.remedies.stated[resin], { revision: state.bench.revision, state: resin }) }, w.remedies.state[resin]);
  return h("div", {}, h("p", {}, w.remedies.maker), h("p", { id: "remedy-state" }, button("carbon"), " ", button("not carbon")));
}
