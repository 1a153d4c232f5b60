// Keeps records on the phone: in IndexedDB, written through to the disk, and mirrored in localStorage.
//
// Each record has its own place, so that a write that is cut off harms no other. On opening, both are read and each is
// given what only the other has. Either may be missing (some phones allow neither to a page opened from a file).

const PLACE = "spreadwright deck log";
const PATIENCE = 4000; // [ms] for a database that neither opens nor fails

function openDatabase() {
  return new Promise((resolve) => {
    const give = (database) => { clearTimeout(late); resolve(database); };
    const late = setTimeout(() => resolve(null), PATIENCE);
    try {
      const asked = indexedDB.open(PLACE, 1);
      asked.onupgradeneeded = () => asked.result.createObjectStore("kept");
      asked.onsuccess = () => give(asked.result);
      asked.onerror = asked.onblocked = () => give(null);
    } catch {
      give(null);
    }
  });
}

function openMirror() {
  try {
    const probe = `${PLACE} probe`;
    localStorage.setItem(probe, "1");
    localStorage.removeItem(probe);
    return localStorage;
  } catch {
    return null;
  }
}

// Everything under a beginning of keys, as a map from key to value.
function readDatabase(database, beginning) {
  return new Promise((resolve) => {
    const found = new Map();
    try {
      const range = IDBKeyRange.bound(beginning, `${beginning}\uffff`);
      const asked = database.transaction("kept").objectStore("kept").openCursor(range);
      asked.onsuccess = () => {
        const cursor = asked.result;
        if (!cursor) return resolve(found);
        found.set(cursor.key, cursor.value);
        cursor.continue();
      };
      asked.onerror = () => resolve(found);
    } catch {
      resolve(found);
    }
  });
}

function readMirror(mirror, beginning) {
  const found = new Map();
  for (let i = 0; i < mirror.length; i += 1) {
    const key = mirror.key(i);
    if (!key.startsWith(beginning)) continue;
    try {
      found.set(key, JSON.parse(mirror.getItem(key)));
    } catch {
      // a value cut off while it was written: the database has it whole, or it was never said to be kept
    }
  }
  return found;
}

// True once the values are on the disk ("strict": the phone may lose its power right after).
function writeDatabase(database, pairs) {
  return new Promise((resolve) => {
    try {
      const work = database.transaction("kept", "readwrite", { durability: "strict" });
      for (const [key, value] of pairs) work.objectStore("kept").put(value, key);
      work.oncomplete = () => resolve(true);
      work.onerror = work.onabort = () => resolve(false);
    } catch {
      resolve(false);
    }
  });
}

function writeMirror(mirror, pairs) {
  try {
    for (const [key, value] of pairs) mirror.setItem(key, JSON.stringify(value));
    return true;
  } catch {
    return false; // full
  }
}

// The store of one sheet. `keep(key, value)` pairs; `read()` gives all of them; `state()` says in one word how safe.
async function openStore(sheet) {
  let database = await openDatabase();
  const mirror = openMirror();
  const beginning = `${PLACE} ${sheet} `;
  let failed = false;
  if (database) navigator.storage?.persist?.()?.catch(() => {});

  async function keep(pairs) {
    const named = pairs.map(([key, value]) => [beginning + key, value]);
    const mirrored = mirror ? writeMirror(mirror, named) : false;
    let kept = database ? await writeDatabase(database, named) : false;
    if (database && !kept) { // phones close a database under a page that was out of sight: open it anew, once
      database = (await openDatabase()) ?? database;
      kept = await writeDatabase(database, named);
    }
    failed = !(kept || mirrored);
    return !failed;
  }

  async function read() {
    const first = database ? await readDatabase(database, beginning) : new Map();
    const second = mirror ? readMirror(mirror, beginning) : new Map();
    const all = new Map([...second, ...first]);
    const behind = [...second].filter(([key]) => !first.has(key));
    if (database && behind.length) await writeDatabase(database, behind);
    if (mirror) writeMirror(mirror, [...first].filter(([key]) => !second.has(key)));
    return new Map([...all].map(([key, value]) => [key.slice(beginning.length), value]));
  }

  const state = () => (failed || !(database || mirror) ? "nowhere" : database ? "kept" : "mirror");
  return { keep, read, state };
}
