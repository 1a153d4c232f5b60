// A QR code (ISO/IEC 18004) of a text in byte mode, level L: rows of true (dark) and false, without the quiet border.
//
// Level L is enough for a clean screen and gives the largest modules. Uses nothing of the page.

// ISO/IEC 18004:2015, table 9, level L, versions 1 to 40: error-correction codewords a block, and number of blocks.
const QR_CORRECTION = [7, 10, 15, 20, 26, 18, 20, 24, 30, 18, 20, 24, 26, 30, 22, 24, 28, 30, 28, 28, 28, 28, 30, 30, 26,
  28, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30];
const QR_BLOCKS = [1, 1, 1, 1, 1, 2, 2, 2, 2, 4, 4, 4, 4, 4, 6, 6, 6, 6, 7, 8, 8, 9, 9, 10, 12, 12, 12, 13, 14, 15, 16,
  17, 18, 19, 19, 20, 21, 22, 24, 25];
const QR_LEVEL_L = 0b01; // 7.9.1, table 12
const QR_MASKS = [ // 7.8.2, table 10: row i, column j
  (i, j) => (i + j) % 2 === 0,
  (i) => i % 2 === 0,
  (i, j) => j % 3 === 0,
  (i, j) => (i + j) % 3 === 0,
  (i, j) => (Math.floor(i / 2) + Math.floor(j / 3)) % 2 === 0,
  (i, j) => ((i * j) % 2) + ((i * j) % 3) === 0,
  (i, j) => (((i * j) % 2) + ((i * j) % 3)) % 2 === 0,
  (i, j) => (((i + j) % 2) + ((i * j) % 3)) % 2 === 0,
];

// Arithmetic in GF(256) with x^8 + x^4 + x^3 + x^2 + 1 (7.5.2), by powers of its generator 2.
const QR_POWER = new Uint8Array(510), QR_LOG = new Uint8Array(256);
for (let i = 0, value = 1; i < 255; i += 1) {
  QR_POWER[i] = QR_POWER[i + 255] = value;
  QR_LOG[value] = i;
  value = (value << 1) ^ (value & 128 ? 0x11d : 0);
}
const qrTimes = (a, b) => (a && b ? QR_POWER[QR_LOG[a] + QR_LOG[b]] : 0);

// Reed-Solomon: what is left of data times x^count divided by (x - 1)(x - 2)...(x - 2^(count - 1)).
function qrCorrection(data, count) {
  let divisor = [1];
  for (let k = 0; k < count; k += 1) {
    const next = [...divisor, 0];
    divisor.forEach((factor, i) => { next[i + 1] ^= qrTimes(factor, QR_POWER[k]); });
    divisor = next;
  }
  const rest = new Uint8Array(count);
  for (const byte of data) {
    const lead = byte ^ rest[0];
    rest.copyWithin(0, 1);
    rest[count - 1] = 0;
    for (let i = 0; i < count; i += 1) rest[i] ^= qrTimes(divisor[i + 1], lead);
  }
  return rest;
}

// Centres of the alignment patterns along one side (annex E): evenly spaced from the far end, the step even.
function qrCentres(version) {
  if (version === 1) return [];
  const size = 17 + 4 * version, count = Math.floor(version / 7) + 2;
  const step = version === 32 ? 26 : Math.ceil((size - 13) / (2 * count - 2)) * 2;
  const found = [];
  for (let k = 0; k < count - 1; k += 1) found.unshift(size - 7 - k * step);
  return [6, ...found];
}

// How many codewords a version has in all: the modules that no pattern takes, in eights.
function qrCodewords(version) {
  const size = 17 + 4 * version, along = qrCentres(version).length;
  const finders = 3 * 64, timing = 2 * (size - 16), formats = 31;
  const alignment = along ? (along * along - 3) * 25 - 2 * (along - 2) * 5 : 0;
  const versions = version >= 7 ? 36 : 0;
  return Math.floor((size * size - finders - timing - formats - alignment - versions) / 8);
}

const qrRoom = (version) => qrCodewords(version) - QR_CORRECTION[version - 1] * QR_BLOCKS[version - 1];
const qrHead = (version) => (version < 10 ? 12 : 20); // bits of mode and count (7.4.1, table 3)

// Data codewords: mode, count, bytes, end, padding (7.4).
function qrData(bytes, version) {
  const bits = [];
  const put = (value, count) => { for (let i = count - 1; i >= 0; i -= 1) bits.push((value >> i) & 1); };
  put(0b0100, 4);
  put(bytes.length, qrHead(version) - 4);
  for (const byte of bytes) put(byte, 8);
  const room = 8 * qrRoom(version);
  put(0, Math.min(4, room - bits.length));
  while (bits.length % 8) bits.push(0);
  for (let pad = 0xec; bits.length < room; pad ^= 0xec ^ 0x11) put(pad, 8);
  const data = new Uint8Array(room / 8);
  bits.forEach((bit, i) => { data[i >> 3] |= bit << (7 - (i & 7)); });
  return data;
}

// Data and correction of all blocks, interleaved (7.6): short blocks come first.
function qrMessage(data, version) {
  const count = QR_BLOCKS[version - 1], correct = QR_CORRECTION[version - 1];
  const short = Math.floor(data.length / count), long = data.length % count;
  const blocks = [];
  for (let k = 0, at = 0; k < count; k += 1) {
    const end = at + short + (k >= count - long ? 1 : 0);
    blocks.push(data.subarray(at, end));
    at = end;
  }
  const corrections = blocks.map((block) => qrCorrection(block, correct));
  const message = [];
  for (let i = 0; i <= short; i += 1) for (const block of blocks) if (i < block.length) message.push(block[i]);
  for (let i = 0; i < correct; i += 1) for (const block of corrections) message.push(block[i]);
  return message;
}

// The patterns that every code of a version has; null where data goes, false where format and version will stand.
function qrFrame(version) {
  const size = 17 + 4 * version;
  const rows = Array.from({ length: size }, () => new Array(size).fill(null));
  const square = (row, column, reach, dark) => {
    for (let i = -reach; i <= reach; i += 1) {
      for (let j = -reach; j <= reach; j += 1) {
        if (rows[row + i]?.[column + j] !== undefined) rows[row + i][column + j] = dark(Math.max(Math.abs(i), Math.abs(j)));
      }
    }
  };
  for (let k = 0; k < size; k += 1) rows[6][k] = rows[k][6] = k % 2 === 0;
  const centres = qrCentres(version), last = size - 7;
  for (const row of centres) {
    for (const column of centres) {
      const corner = (row === 6 && (column === 6 || column === last)) || (row === last && column === 6);
      if (!corner) square(row, column, 2, (away) => away !== 1);
    }
  }
  for (const [row, column] of [[3, 3], [3, size - 4], [size - 4, 3]]) square(row, column, 4, (away) => away !== 2 && away < 4);
  for (let k = 0; k < 9; k += 1) rows[8][k] = rows[k][8] = rows[8][k] ?? rows[k][8] ?? false;
  rows[8][6] = rows[6][8] = true;
  for (let k = 1; k <= 8; k += 1) rows[8][size - k] = rows[size - k][8] = false;
  if (version >= 7) qrVersion(rows, version);
  return rows;
}

// What is left of a number's bits shifted up, divided by a generator's bits: the checks of format and version.
function qrRest(value, generator, bits) {
  let rest = value << bits;
  for (let i = 31 - Math.clz32(rest); rest >> bits; i = 31 - Math.clz32(rest)) rest ^= generator << (i - bits);
  return rest;
}

// Version information (7.10): 6 bits and 12 of check, at two places.
function qrVersion(rows, version) {
  const bits = (version << 12) | qrRest(version, 0b1111100100101, 12);
  for (let k = 0; k < 18; k += 1) {
    const dark = ((bits >> k) & 1) === 1, far = rows.length - 11 + (k % 3), near = Math.floor(k / 3);
    rows[far][near] = rows[near][far] = dark;
  }
}

// Format information (7.9): level and mask with 10 bits of check, at two places.
function qrFormat(rows, mask) {
  const said = (QR_LEVEL_L << 3) | mask, size = rows.length;
  const bits = ((said << 10) | qrRest(said, 0b10100110111, 10)) ^ 0b101010000010010;
  for (let k = 0; k < 15; k += 1) {
    const dark = ((bits >> k) & 1) === 1;
    rows[k < 6 ? k : k < 8 ? k + 1 : size - 15 + k][8] = dark;
    rows[8][k < 8 ? size - 1 - k : k === 8 ? 7 : 14 - k] = dark;
  }
  rows[size - 8][8] = true;
}

// The code with one mask: data in columns of two, from the right, up and down in turn, past the upright timing line.
function qrMasked(frame, message, mask) {
  const rows = frame.map((row) => [...row]), size = rows.length;
  let k = 0, up = true;
  for (let right = size - 1; right > 0; right -= 2, up = !up) {
    if (right === 6) right -= 1;
    for (let step = 0; step < size; step += 1) {
      const i = up ? size - 1 - step : step;
      for (const j of [right, right - 1]) {
        if (frame[i][j] !== null) continue;
        const dark = ((message[k >> 3] >> (7 - (k & 7))) & 1) === 1;
        rows[i][j] = dark !== QR_MASKS[mask](i, j);
        k += 1;
      }
    }
  }
  qrFormat(rows, mask);
  return rows;
}

// How often a line looks like a finder's middle with four light modules before or after it, the border being light.
function qrFinderLikes(line) {
  let count = 0;
  for (let at = line.indexOf("1011101"), step; at >= 0; at = line.indexOf("1011101", at + step)) {
    const found = line.slice(at - 4, at) === "0000" || line.slice(at + 7, at + 11) === "0000";
    count += found ? 1 : 0;
    step = found ? 7 : 4; // the next may begin with this one's end
  }
  return count;
}

// How hard a code is to read (7.8.3): runs, squares, what looks like a finder, and too much of one shade.
function qrPenalty(rows) {
  const size = rows.length;
  let found = 0, dark = 0;
  const turned = rows.map((_, j) => rows.map((row) => row[j]));
  for (const lines of [rows, turned]) {
    for (const line of lines) {
      const text = line.map((each) => (each ? "1" : "0")).join("");
      for (const run of text.match(/0{5,}|1{5,}/g) ?? []) found += run.length - 2;
      found += 40 * qrFinderLikes(`0000${text}0000`);
    }
  }
  for (let i = 0; i < size; i += 1) {
    for (let j = 0; j < size; j += 1) {
      if (rows[i][j]) dark += 1;
      if (i && j && rows[i][j] === rows[i - 1][j] && rows[i][j] === rows[i][j - 1] && rows[i][j] === rows[i - 1][j - 1]) found += 3;
    }
  }
  return found + 10 * Math.floor(Math.abs((20 * dark) / (size * size) - 10));
}

// The smallest code of a text; null if it is too long (2,953 bytes is the most). Version and mask may be given.
function qrCode(text, { version = 0, mask = -1 } = {}) {
  const bytes = new TextEncoder().encode(text);
  const fits = (each) => 8 * bytes.length + qrHead(each) <= 8 * qrRoom(each);
  let chosen = version || 1;
  while (chosen <= 40 && !fits(chosen)) chosen += 1;
  if (chosen > 40) return null;
  const frame = qrFrame(chosen), message = qrMessage(qrData(bytes, chosen), chosen);
  const masks = mask < 0 ? [0, 1, 2, 3, 4, 5, 6, 7] : [mask];
  const codes = masks.map((each) => qrMasked(frame, message, each));
  return codes.reduce((best, each) => (qrPenalty(each) < qrPenalty(best) ? each : best));
}

// The code as the `d` of an SVG path, one unit a module, with `quiet` modules kept free around it.
function qrPath(rows, quiet) {
  let path = "";
  rows.forEach((row, i) => row.forEach((dark, j) => { if (dark) path += `M${j + quiet},${i + quiet}h1v1h-1z`; }));
  return path;
}
