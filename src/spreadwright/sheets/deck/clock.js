// Times that run: of the day, since the lines went out, since the last strike, of an open strike, and the timer.

function showClock() {
  const now = Date.now(), said = [clockTime(now).slice(0, 5)];
  const out = [...lastOfLines().values()].filter((line) => line.kind === "line_out").map((line) => new Date(line.at));
  if (out.length) said.push(`${out.length} out, first for ${lasting(now - Math.min(...out))}`);
  const strikes = standing(entries()).filter((entry) => entry.kind === "strike");
  if (strikes.length) said.push(`last strike ${lasting(now - new Date(strikes[strikes.length - 1].at))} ago`);
  shown("times").textContent = said.join(" · ");
  for (const panel of panels()) {
    const entry = held.records.get(panel.dataset.id)?.entry;
    if (entry) shown("since", panel).textContent = `${lasting(now - new Date(entry.at))} ago`;
  }
  showTimer(now);
}

function showTimer(now) {
  const ends = held.settings.timer ?? 0, box = document.querySelector(".timer"), over = ends > 0 && now >= ends;
  shown("timer").textContent = !ends ? "not set" : over ? `Time is up, ${lasting(now - ends)} ago` : lasting(ends - now + 999);
  if (over && !box.classList.contains("is-over")) ring();
  box.classList.toggle("is-over", over);
}

function ring() {
  shown("timer-said").textContent = "Time is up.";
  sayLast("Time is up.");
  if (!matchMedia("(prefers-reduced-motion: reduce)").matches) navigator.vibrate?.([500, 200, 500]);
  if (!held.audio) return;
  for (const start of [0, 0.5, 1]) {
    const tone = held.audio.createOscillator();
    tone.frequency.value = 880;
    tone.connect(held.audio.destination);
    tone.start(held.audio.currentTime + start);
    tone.stop(held.audio.currentTime + start + 0.25);
  }
}

async function setTimer(minutes) {
  try {
    if (minutes) held.audio ??= new AudioContext(); // a page may only sound after a tap
  } catch {
    held.audio = null;
  }
  shown("timer-said").textContent = minutes ? `Timer set to ${minutes} minutes.` : "Timer stopped.";
  await set({ timer: minutes ? Date.now() + 60_000 * minutes : 0 });
  showClock();
}

// ---- where we are, if the captain wants it noted ----
let watching = null;
function watchPosition() {
  if (watching !== null) navigator.geolocation.clearWatch(watching);
  watching = null;
  held.fix = null;
  const line = shown("position");
  if (!held.settings.position) return;
  if (!navigator.geolocation) {
    line.textContent = "This phone gives no position to a page opened from a file.";
    return;
  }
  line.textContent = "Waiting for a position. Until there is one, entries are noted without.";
  const found = ({ coords }) => {
    held.fix = { at: Date.now(), place: [Number(coords.latitude.toFixed(5)), Number(coords.longitude.toFixed(5))] };
    line.textContent = `Position ${held.fix.place.map((each) => each.toFixed(4)).join(", ")}, good to ${Math.round(coords.accuracy)} m.`;
  };
  const failed = (error) => {
    line.textContent = error.code === 1
      ? "The phone does not allow this page the position: entries are noted without. Allow it in the browser's settings."
      : "No position just now: entries are noted without.";
  };
  watching = navigator.geolocation.watchPosition(found, failed, { enableHighAccuracy: true, maximumAge: 30_000 });
}
