// Long work: begin it, follow it, stop it. The stream goes on by itself after a dropped connection, and nothing is lost.
import { Refused, send, trip } from "./net.js";

const OVER = ["done", "stopped", "failed"];

/** Bring one block of long work to life; `finished` is called when its result is there. */
export function follow(block, finished) {
  const kind = block.dataset.work;
  const [begin, stop, words, bar] = ["begin", "stop", "said", "bar"].map((name) => block.querySelector(`[data-${name}]`));

  function show(step) {
    const over = OVER.includes(step.state);
    begin.hidden = !over;
    stop.hidden = over;
    bar.hidden = over;
    if (step.total > 0 && step.done > 0) {
      bar.max = step.total;
      bar.value = step.done;
    } else {
      bar.removeAttribute("value");
    }
    const share = step.total > 0 ? `: ${step.done} of ${step.total}` : "";
    words.textContent = { done: "Done.", stopped: "Stopped." }[step.state] ?? `${step.words}${share}`;
  }

  function listen() {
    const stream = new EventSource(`/api/trips/${trip}/${kind}/steps`);
    stream.onmessage = (event) => {
      const step = JSON.parse(event.data);
      show(step);
      if (!OVER.includes(step.state)) return;
      stream.close();
      if (step.state === "done") finished();
    };
    stream.onerror = () => {
      if (stream.readyState === EventSource.CONNECTING) words.textContent = "The connection dropped; trying again.";
    };
  }

  async function ask(path) {
    try {
      return await send(path);
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      words.textContent = error.message;
      return null;
    }
  }

  begin.addEventListener("click", async () => {
    const step = await ask(`/${kind}`);
    if (step === null) return;
    show(step);
    stop.focus();
    listen();
  });
  begin.disabled = false; // until now a press would have gone nowhere
  stop.addEventListener("click", () => {
    words.textContent = "Stopping.";
    ask(`/${kind}/stop`);
  });
  if (["waiting", "running"].includes(block.dataset.state)) {
    show({ state: "running", words: "under way", done: 0, total: 0 });
    listen();
  }
}
