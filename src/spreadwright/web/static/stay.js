// Forms that are sent without leaving one's place on the page: the answer's content takes the place of the old.
// Without scripts the same forms work by loading the page again. What is sent is sent in the order it was asked for.

let before = Promise.resolve();
let waiting = 0;

// What is wrong stands above what was filled in, which stays as it was.
function show(...nodes) {
  const content = document.getElementById("content");
  content.querySelector("[data-told]")?.remove();
  const told = document.createElement("div");
  told.dataset.told = "";
  told.className = "note";
  told.tabIndex = -1;
  told.setAttribute("role", "alert");
  told.append(...nodes);
  content.prepend(told);
  told.focus();
}

async function send(address, body, focus) {
  try {
    const response = await fetch(address, { method: "POST", body });
    const made = new DOMParser().parseFromString(await response.text(), "text/html");
    const fresh = made.getElementById("content");
    if (!fresh) throw new Error("no page");
    if (!response.ok) {
      show(...fresh.childNodes);
      return;
    }
    document.getElementById("content").replaceChildren(...fresh.childNodes);
    document.title = made.title;
    dress();
    document.getElementById(focus)?.focus({ preventScroll: true });
  } catch {
    show("The server did not answer. Nothing was kept of this: see whether it still runs, and load the page again.");
  }
}

function dress() {
  for (const each of document.querySelectorAll("[data-by-hand]")) each.hidden = true;
}

// What was pressed but not sent yet would be lost with the page: the browser asks.
addEventListener("beforeunload", (event) => {
  if (waiting) event.preventDefault();
});

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!("stay" in form.dataset)) return;
  event.preventDefault();
  const body = new URLSearchParams(new FormData(form, event.submitter));
  const address = event.submitter?.getAttribute("formaction") ?? form.getAttribute("action");
  const focus = (event.submitter ?? document.activeElement)?.id ?? "";
  waiting += 1;
  before = before.then(() => send(address, body, focus)).finally(() => { waiting -= 1; });
});

// One tick says only of itself whether it is done, so that quick ones do not undo one another; it is sent at once and
// arrives even if the page is left. Those of one box go one after the other.
const ticks = new Map();

async function keep(address, body) {
  try {
    const response = await fetch(address, { method: "POST", body, keepalive: true, redirect: "manual" });
    if (response.ok || response.type === "opaqueredirect") return;
    const made = new DOMParser().parseFromString(await response.text(), "text/html");
    show(...made.getElementById("content").childNodes);
  } catch {
    show("The server did not answer. The tick was not kept: see whether it still runs, and load the page again.");
  }
}

document.addEventListener("change", (event) => {
  const { target } = event;
  if (target.type !== "checkbox" || target.form?.dataset.stay !== "ticks") return;
  const token = target.form.elements.namedItem("token").value;
  const body = new URLSearchParams({ token, [target.checked ? "done" : "was"]: target.value });
  const address = target.form.getAttribute("action");
  ticks.set(target.id, (ticks.get(target.id) ?? Promise.resolve()).then(() => keep(address, body)));
});

dress();
