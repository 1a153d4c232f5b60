// Forms that are sent without leaving one's place on the page: the answer's content takes the place of the old.
// Without scripts the same forms work by loading the page again. What is sent is sent in the order it was asked for.

let before = Promise.resolve();

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

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!("stay" in form.dataset)) return;
  event.preventDefault();
  const body = new URLSearchParams(new FormData(form, event.submitter));
  const address = event.submitter?.getAttribute("formaction") ?? form.getAttribute("action");
  const focus = (event.submitter ?? document.activeElement)?.id ?? "";
  before = before.then(() => send(address, body, focus));
});

// One tick says only of itself whether it is done, so that quick ones do not undo one another.
document.addEventListener("change", (event) => {
  const { target } = event;
  if (target.type !== "checkbox" || !target.form || target.form.dataset.stay !== "ticks") return;
  const token = target.form.elements.namedItem("token").value;
  const body = new URLSearchParams({ token, [target.checked ? "done" : "was"]: target.value });
  const address = target.form.getAttribute("action");
  before = before.then(() => send(address, body, target.id));
});

dress();
