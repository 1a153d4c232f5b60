// The log leaves the phone: as a file, by the phone's own sharing, as codes to read off the screen, or as text.

const CODE_BYTES = 1000; // of one code: larger ones are hard to read off a phone
const QUIET = 4; // modules kept free around a code (ISO/IEC 18004, 9.1)
const codes = { texts: [], at: 0 };

const logText = (some) => JSON.stringify(deckLog(sheet, some), null, 1);
const day = () => new Date().toISOString().slice(0, 10);
const fileName = (ending) => `deck-log-${day()}-${sheet.id.slice(0, 8)}.${ending}`;

function saySent(said) {
  shown("sent").textContent = said;
}

function something() {
  if (held.records.size) return true;
  saySent("Nothing is noted yet: there is nothing to take ashore.");
  return false;
}

// What has left once must be told of every later undo.
function markSent() {
  const left = [...held.records.values()].filter((record) => !record.sent);
  for (const record of left) record.sent = true;
  return held.store.keep(left.map((record) => [record.entry.id, record]));
}

async function saveFile() {
  if (!something()) return;
  const link = make("a", { download: fileName("json") });
  link.href = URL.createObjectURL(new Blob([logText(entries())], { type: "application/json" }));
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  await markSent();
  saySent(`Saved as ${link.download}: look among the phone's downloads.`);
}

// Browsers share text files; the ending matters to them and not to the laptop.
const sharedFile = () => new File([logText(entries())], fileName("txt"), { type: "text/plain" });
function canShare() {
  try {
    return Boolean(navigator.canShare?.({ files: [sharedFile()] }));
  } catch {
    return false;
  }
}

async function share() {
  if (!something()) return;
  try {
    await navigator.share({ files: [sharedFile()], title: `Deck log: ${sheet.trip}` });
    await markSent();
    saySent("Shared.");
  } catch (error) {
    saySent(error.name === "AbortError" ? "Not shared." : "This phone refused to share: save a file instead.");
  }
}

// ---- codes ----
const plainSigns = (text) => text.replace(/[\u007f-\uffff]/g, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, "0")}`);

async function showCodes() {
  if (!something()) return;
  const texts = deckLogParts(sheet, leaving([...held.records.values()]), CODE_BYTES).map(plainSigns);
  if (!texts.length) return saySent("All that was noted has been taken back: there is nothing to take ashore.");
  codes.texts = texts;
  codes.at = 0;
  showCode(0);
  document.querySelector("dialog").showModal();
  await markSent();
}

function showCode(step) {
  codes.at = Math.min(Math.max(codes.at + step, 0), codes.texts.length - 1);
  const rows = qrCode(codes.texts[codes.at]);
  const SVG = "http://www.w3.org/2000/svg", side = (rows?.length ?? 0) + 2 * QUIET;
  const picture = document.createElementNS(SVG, "svg"), path = document.createElementNS(SVG, "path");
  picture.setAttribute("viewBox", `0 0 ${side} ${side}`);
  picture.setAttribute("shape-rendering", "crispEdges");
  picture.setAttribute("role", "img");
  picture.setAttribute("aria-label", `Part ${codes.at + 1} of ${codes.texts.length} of the log as a code`);
  if (rows) path.setAttribute("d", qrPath(rows, QUIET));
  picture.append(path);
  shown("code").replaceChildren(rows ? picture : make("p", {}, "This entry is too long for a code: save a file instead."));
  shown("code-place").textContent = `${codes.at + 1} of ${codes.texts.length}`;
  for (const button of document.querySelectorAll('[data-do="code"]')) {
    const next = codes.at + Number(button.dataset.step);
    button.disabled = next < 0 || next >= codes.texts.length;
  }
}
