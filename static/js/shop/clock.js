/** Clocks that go by the time of day, not by ticks: they survive a locked screen, a reload and a phone that slept.
 *  One clock has a name; `begun` and `ended` are kept, so that any page with that name shows the same. */
const KEY = (name) => `forgesite clock ${name}`;

export function clock(name, { show, ended }) {
  let timer = null;

  const state = () => {
    try {
      return memory.get(name) ?? JSON.parse(localStorage.getItem(KEY(name)));
    } catch {
      return null;
    }
  };
  const keep = (value) => {
    memory.delete(name);
    try {
      if (value) localStorage.setItem(KEY(name), JSON.stringify(value));
      else localStorage.removeItem(KEY(name));
    } catch {
      memory.set(name, value); // a private window may refuse: the clock then lives as long as the page
    }
  };

  function tick() {
    const now = state();
    clearTimeout(timer);
    if (!now) return show(null);
    // A clock that was set back would make the heat longer than it is: it counts from its new time then.
    if (Date.now() < now.begun) keep({ ...now, begun: Date.now() });
    const left = now.seconds - (Date.now() - Math.min(now.begun, Date.now())) / 1000;
    if (left <= 0) {
      keep(null);
      show(null);
      return ended({ late: -left });
    }
    show(left);
    timer = setTimeout(tick, 200);
  }

  document.addEventListener("visibilitychange", tick);
  tick();
  return {
    start(seconds) {
      keep({ begun: Date.now(), seconds });
      tick();
    },
    stop() {
      keep(null);
      tick();
    },
    longer(seconds) {
      const now = state();
      if (now) keep({ ...now, seconds: now.seconds + seconds });
      tick();
    },
    get runs() {
      return state() !== null;
    },
  };
}

const memory = new Map(); // of clocks that could not be stored

/** "0:26" */
export const said = (seconds) => `${Math.floor(Math.ceil(seconds) / 60)}:${String(Math.ceil(seconds) % 60).padStart(2, "0")}`;
