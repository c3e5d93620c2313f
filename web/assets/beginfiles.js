// Files on their way into the folder: dropped, or chosen. A few go in at a time;
// what is not taken is kept in a list with the reason.

import { file as send } from "./api.js";

const AT_ONCE = 4;
const ROSTERS = /\.(csv|tsv|xlsx)$/i, PHOTOS = /\.(jpe?g|png|webp|tiff?)$/i;

/** How many MB a file may have: what the server takes. One that has more is not
 *  sent, for the answer would come before the end of it and be lost. */
const ROSTER_MB = 64, PHOTO_MB = 32;

/** Rosters and photos in forms that are not taken. */
const OTHER_ROSTERS = /\.(xls|xlsm|xlsb|ods)$/i, OTHER_PHOTOS = /\.(heic|heif|gif|bmp|avif)$/i;

/** What systems leave in folders of pictures is no file of the user's. */
const LEFT_BY_SYSTEMS = /^(\.|thumbs\.db$|desktop\.ini$)/i;

export class Intake {
  /** @param tell called whenever something has changed; @param done when all files are in */
  constructor(tell, done) {
    Object.assign(this, { tell, done, total: 0, over: 0, working: 0, waiting: [], refused: [], roster: "" });
  }

  get busy() { return this.working > 0 || this.waiting.length > 0; }

  /** add takes files; a roster goes first, so that columns are seen early. */
  add(files) {
    const wanted = [...files].filter((f) => !LEFT_BY_SYSTEMS.test(f.name));
    if (!wanted.length) return;
    if (!this.busy) Object.assign(this, { total: 0, over: 0, refused: [] });
    this.total += wanted.length;
    this.waiting.push(...wanted.sort((a, b) => ROSTERS.test(b.name) - ROSTERS.test(a.name)));
    while (this.working < AT_ONCE && this.waiting.length) this.work();
    this.tell();
  }

  async work() {
    this.working++;
    while (this.waiting.length) await this.put(this.waiting.shift());
    this.working--;
    if (!this.busy) this.done();
  }

  async put(f) {
    const roster = ROSTERS.test(f.name), most = roster ? ROSTER_MB : PHOTO_MB;
    const refuse = (why, e) => this.refused.push({ name: f.name, why, most, said: e?.message, hint: e?.hint });
    if (!roster && !PHOTOS.test(f.name)) refuse(OTHER_ROSTERS.test(f.name) ? "roster" : OTHER_PHOTOS.test(f.name) ? "image" : "kind");
    else if (f.size > most * 2 ** 20) refuse("large");
    else {
      try {
        const { kept } = await send(f);
        if (roster) this.roster = kept;
      } catch (e) {
        refuse(e.message || await readable(f) ? e.why : "unread", e);
      }
    }
    this.over++;
    this.tell();
  }
}

// A request whose file cannot be read fails as one that nobody answers does.
const readable = (f) => f.arrayBuffer().then(() => true, () => false);

/** dropped gives the files of a drop, those in folders too. */
export async function dropped(transfer) {
  const entries = [...(transfer.items ?? [])].map((i) => i.webkitGetAsEntry?.()).filter(Boolean);
  if (!entries.length) return [...transfer.files]; // no folders to be had this way
  const files = [];
  for (const e of entries) await walk(e, files);
  return files;
}

async function walk(entry, files) {
  if (entry.isFile) return files.push(await new Promise((good, bad) => entry.file(good, bad)));
  const reader = entry.createReader();
  for (;;) { // a reader gives a hundred at a time
    const some = await new Promise((good, bad) => reader.readEntries(good, bad));
    if (!some.length) return;
    for (const e of some) await walk(e, files);
  }
}
