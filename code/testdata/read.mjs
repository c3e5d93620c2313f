// Reads bar codes with zxing-wasm, for the tests of this package. On stdin as
// read.py takes it; on stdout for each picture one JSON line {"zxing": [...]}.
import { readFileSync } from "node:fs";
import vm from "node:vm";

const at = new URL("zxing-wasm/", import.meta.url);
vm.runInThisContext(readFileSync(new URL("reader.js", at), "utf8") + "\n;globalThis.ZXingWASM = ZXingWASM;");
const { prepareZXingModule, readBarcodes } = globalThis.ZXingWASM;
prepareZXingModule({ overrides: { wasmBinary: readFileSync(new URL("zxing_reader.wasm", at)).buffer } });

const FORMATS = {
  code39: "Code39Std", code128: "Code128", itf: "ITF", codabar: "Codabar", code93: "Code93", "gs1-128": "Code128", isbt128: "Code128",
  ean13: "EAN13", ean8: "EAN8", upca: "UPCA", upce: "UPCE", qr: "QRCode", datamatrix: "DataMatrix", aztec: "Aztec", pdf417: "PDF417",
};

const input = readFileSync(0);
for (let at = 0; at < input.length;) {
  const end = input.indexOf(10, at);
  const [kind, w, h] = input.toString("latin1", at, end).split(" ");
  const width = +w, height = +h, data = new Uint8ClampedArray(4 * width * height);
  at = end + 1;
  for (let i = 0; i < width * height; i++) data.set([0, 0, 0].fill(input[at + i] ? 0 : 255).concat(255), 4 * i);
  at += width * height;
  const found = await readBarcodes({ width, height, data }, { formats: [FORMATS[kind]], textMode: "Plain", tryHarder: false, maxNumberOfSymbols: 1, minLineCount: 1 });
  console.log(JSON.stringify({ zxing: found.filter((f) => f.isValid).map((f) => f.text) }));
}
