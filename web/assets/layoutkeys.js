// What can be said of an element in place, kind by kind: the keys of the file
// with what may be written there.

const size = { unit: "mm", type: "number", min: 0, step: 0.1 };
const sends = ["rule", "resin", "dye", "fluorescent", "special"];
const align = { key: "align", type: "choice", of: ["start", "middle", "end"] };
const fit = { key: "fit", type: "choice", of: ["cover", "contain", "stretch"], usual: "cover" };
const send = { key: "send", type: "choice", of: sends, usual: "rule" };
const colour = (key, usual) => ({ key, type: "words", size: 8, usual });
const stroke = [colour("stroke"), { key: "width", ...size, usual: 0.3 }];

// What only some symbologies have.
const forms = [
  { key: "level", type: "choice", of: ["L", "M", "Q", "H"], usual: "M", codes: ["qr"] },
  { key: "level", type: "number", min: 0, codes: ["pdf417"] },
  { key: "level", type: "number", min: 5, unit: "%", codes: ["aztec"] },
  { key: "oblong", type: "flag", codes: ["datamatrix"] },
  { key: "columns", type: "number", min: 1, codes: ["pdf417"] },
  { key: "compact", type: "flag", codes: ["pdf417"] },
  { key: "gs1", type: "flag", codes: ["qr", "datamatrix"] },
];

// Symbologies that mean the same by a key; any other key of a symbology is its own.
const alike = { gs1: ["qr", "datamatrix"], binary: ["qr", "datamatrix", "aztec", "pdf417"], ratio: ["code39", "itf", "codabar"] };
const own = ["check", "given", "full-ascii", "start", "stop", "level", "oblong", "columns", "compact", ...Object.keys(alike)];

/** lost lists the stated keys that an element must lose for another symbology. */
export const lost = (stated, code) => own.filter((k) => k in stated && !(alike[k]?.includes(code) && alike[k].includes(stated.code)));

const keys = {
  text: [{ key: "text", type: "template" }, { key: "size", ...size, first: true }, { key: "floor", ...size }, { key: "bold", type: "flag" }, { key: "wrap", type: "flag" },
    { ...align, usual: "start" }, { key: "valign", type: "choice", of: ["top", "middle", "bottom"], usual: "top" }, colour("colour", "black"), send],
  code: [{ key: "text", type: "template" }, { key: "code", type: "choice", of: "codes" }, { key: "x", type: "steps", usual: "auto", first: true }, { ...align, usual: "middle" },
    { key: "turn", type: "choice", of: [0, 90, 180, 270], usual: 0, unit: "°" }, { key: "backing", type: "flag" }, ...forms, colour("colour", "black"), send],
  photo: [{ key: "photo", type: "template" }, { key: "folder", type: "words", size: 10, usual: "photos" }, fit, send],
  picture: [{ key: "picture", type: "choice", of: "pictures" }, fit, send],
  mrz: [...["number", "surname", "forenames", "born", "expires", "sex", "nationality", "document", "state"].map((key) => ({ key, type: "words", size: 12 })), { key: "font", type: "words", size: 16 }, { key: "size", ...size }, send],
  line: [...stroke, send],
  rectangle: [colour("fill"), ...stroke, { key: "radius", ...size, usual: 0 }, send],
  ellipse: [colour("fill"), ...stroke, send],
};

/** keysOf lists what can be said of an element of a kind, and of a symbology. */
export const keysOf = (kind, code) => (keys[kind] ?? []).filter((k) => !k.codes || k.codes.includes(code));
