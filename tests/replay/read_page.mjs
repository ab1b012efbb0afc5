// Reads a page's two texts with the page's own modules, damaged as each line of the input says,
// and tells for each: refused, same, or other. Arguments: folder of the modules, page.
import { readFileSync } from "node:fs";
import { createInterface } from "node:readline";

const [web, file] = process.argv.slice(2);
const { inflated, tablesOf } = await import(`${web}/block.js`);
const page = readFileSync(file, "utf8");
const textOf = (id) => page.match(new RegExp(`id="${id}">([^]*?)</script>`))[1];
const texts = { data: textOf("data"), tables: textOf("tables") };

async function read({ data, tables }) {
  const words = new TextDecoder().decode(await inflated(data));
  const values = tablesOf(await inflated(tables), JSON.parse(words).tables);
  return words + values.map((table) => table.values.join());
}

const whole = await read(texts);
for await (const line of createInterface({ input: process.stdin })) {
  const { id, from, to, put } = JSON.parse(line);
  const text = texts[id].slice(0, from) + put + texts[id].slice(to);
  const got = await read({ ...texts, [id]: text }).catch(() => null);
  console.log(got === null ? "refused" : got === whole ? "same" : "other");
}
