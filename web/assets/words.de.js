export { default } from "./words.en.js";
