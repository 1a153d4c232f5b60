// Work that a form began: how far it is, as it comes; once it is over the page is loaded again and shows what came of it.
// The stream goes on by itself after a dropped connection. Without scripts the page says the same when it is loaded.

const OVER = ["done", "stopped", "failed"];

for (const block of document.querySelectorAll("[data-follow]")) {
  const [words, bar] = [block.querySelector("[data-said]"), block.querySelector("[data-bar]")];
  const stream = new EventSource(`${block.dataset.follow}/steps`);
  stream.onmessage = (event) => {
    const step = JSON.parse(event.data);
    if (OVER.includes(step.state)) {
      stream.close();
      location.reload();
      return;
    }
    if (step.total > 0 && step.done > 0) {
      bar.max = step.total;
      bar.value = step.done;
    } else {
      bar.removeAttribute("value");
    }
    words.textContent = step.words + (step.total > 0 ? `: ${step.done} of ${step.total}` : "");
  };
  stream.onerror = () => {
    if (stream.readyState === EventSource.CONNECTING) words.textContent = "The connection dropped; trying again.";
  };
}
