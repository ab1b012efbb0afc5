// Rows over time: which two a time lies between, and values between them.

/** Place of a time in rising times: the row before it, found from where it was last. */
export class Rows {
  constructor(times) {
    this.times = times;
    this.row = 0;
    this.share = 0;
  }

  /** Sets `row` and `share`, how far on the time is to the next row; the ends hold. */
  find(time) {
    const { times } = this;
    const last = times.length - 2;
    let row = Math.min(this.row, last);
    if (time < times[row] || time >= times[row + 1]) row = before(times, time, last);
    this.row = row;
    const share = (time - times[row]) / (times[row + 1] - times[row]);
    this.share = Math.min(Math.max(share, 0), 1);
  }

  /** A column of a table of these rows, at the time that was found. */
  value({ columns, values }, column = 0) {
    const k = this.row * columns + column;
    return values[k] + this.share * (values[k + columns] - values[k]);
  }
}

/** The last row that is not after a time, from 0 to `last`. */
function before(times, time, last) {
  let low = 0;
  let high = last;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (times[middle] <= time) low = middle;
    else high = middle - 1;
  }
  return low;
}
