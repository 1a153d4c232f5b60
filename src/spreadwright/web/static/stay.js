// Forms that are sent without leaving one's place on the page: the answer's content takes the place of the old.
// Without scripts the same forms work by loading the page again. What is sent is sent in the order it was asked for.

let before = Promise.resolve();

function say(words) {
  const content = document.getElementById("content");
  const told = content.querySelector("[data-told]") ?? content.insertBefore(document.createElement("p"), content.firstChild);
  told.dataset.told = "";
  told.className = "note";
  told.setAttribute("role", "status");
  told.textContent = words;
}

async function send(address, body, focus) {
  try {
    const response = await fetch(address, { method: "POST", body });
    const made = new DOMParser().parseFromString(await response.text(), "text/html");
    const fresh = made.getElementById("content");
    if (!fresh) throw new Error("no page");
    document.getElementById("content").replaceChildren(...fresh.childNodes);
    document.title = made.title;
    if (!response.ok) {
      scrollTo(0, 0);
      document.getElementById("content").focus();
      return;
    }
    dress();
    document.getElementById(focus)?.focus({ preventScroll: true });
  } catch {
    say("The server did not answer. Nothing was kept of this: see whether it still runs, and load the page again.");
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
  if (target.type !== "checkbox" || !target.form || !("stay" in target.form.dataset)) return;
  const token = target.form.elements.namedItem("token").value;
  const body = new URLSearchParams({ token, [target.checked ? "done" : "was"]: target.value });
  const address = target.form.getAttribute("action");
  before = before.then(() => send(address, body, target.id));
});

dress();
