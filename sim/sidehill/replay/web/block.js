// Reads what block.py packs.

/** Bytes of a deflated text. */
export async function inflated(text) {
  const bytes = Uint8Array.from(atob(text.trim()), (letter) => letter.charCodeAt(0));
  const whole = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate"));
  return new Uint8Array(await new Response(whole).arrayBuffer());
}

/** Every table as {rows, columns, values}: row after row, in its own unit. */
export function tablesOf(bytes, index) {
  let start = 0;
  return index.map(({ rows, columns, step }) => {
    const values = unpacked(bytes.subarray(start, start + 4 * rows * columns), rows, columns, step);
    start += 4 * rows * columns;
    return { rows, columns, values };
  });
}

function unpacked(bytes, rows, columns, step) {
  const count = rows * columns;
  const values = new Float64Array(count);
  for (let column = 0, k = 0; column < columns; column++) {
    for (let row = 0, sum = 0; row < rows; row++, k++) {
      const folded =
        (bytes[k] | (bytes[k + count] << 8) | (bytes[k + 2 * count] << 16) |
          (bytes[k + 3 * count] << 24)) >>> 0;
      sum += (folded >>> 1) ^ -(folded & 1);
      values[row * columns + column] = sum * step;
    }
  }
  return values;
}
