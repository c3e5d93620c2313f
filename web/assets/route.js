// The address holds what is shown: #readers?row=3&code=0&reader=1.

import { state, tell } from "./state.js";

export const views = ["light", "readers", "findings", "rules", "layout", "run"];

const numbers = ["code", "reader"];

/** read takes the address; it says whether the view or the card is another. */
export function read() {
  const [name, query] = location.hash.slice(1).split("?");
  const q = new URLSearchParams(query ?? ""), was = { view: state.view, row: state.row };
  state.view = views.includes(name) ? name : "light";
  const row = Number.parseInt(q.get("row") ?? "", 10);
  if (row >= 0 && row < Math.max(1, state.bench.cards)) state.row = row;
  state.pick = {};
  for (const [k, v] of q) if (k !== "row") state.pick[k] = numbers.includes(k) ? +v : v;
  return { view: was.view !== state.view, row: was.row !== state.row };
}

/** address of a view with the shown card and what is chosen in it. */
export function address(view, pick = {}, row = state.row) {
  return "#" + view + "?" + new URLSearchParams({ row, ...pick });
}

export function go(view, pick, row) { location.hash = address(view, pick, row); }

/** follow tells the page what of the address has changed. */
export function follow(render) {
  addEventListener("hashchange", () => {
    const changed = read();
    if (changed.view) return render();
    if (changed.row) tell("card");
    tell("pick");
  });
}
