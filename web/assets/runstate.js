// The proof of the whole run: what the server says of it, asked for again while
// it goes on.

import { get, post } from "./api.js";
import { tell } from "./state.js";

export const run = { state: "idle", done: 0, total: 0 };

let timer = 0;

function take(answer) {
  for (const k of Object.keys(run)) delete run[k];
  Object.assign(run, answer);
  clearTimeout(timer);
  if (run.state === "running") timer = setTimeout(askRun, 500);
  tell("run");
}

export async function askRun() {
  try { take(await get("run")); } catch { timer = setTimeout(askRun, 2000); }
}

export async function tellRun(what) { take(await post("run", { do: what })); }
