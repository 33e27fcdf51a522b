// Times in the page, by its own clock: from an input to the frame that shows what came of it.
(() => {
  const times = [];
  let begun_ms = null;
  const note = () => {
    if (begun_ms === null) return;
    const from_ms = begun_ms;
    begun_ms = null;
    requestAnimationFrame(() => requestAnimationFrame((now_ms) => times.push(now_ms - from_ms)));
  };
  window.stopwatch = {
    times,
    // From every event of a kind to the first change of what is told at a place.
    untilTold(kind, place) {
      document.addEventListener(kind, (event) => (begun_ms = event.timeStamp), true);
      const told = new MutationObserver(note);
      told.observe(document.querySelector(place), { subtree: true, childList: true, characterData: true });
    },
    // From every event of a kind to the frame after the answer of a path.
    untilAnswered(kind, path) {
      document.addEventListener(kind, (event) => (begun_ms = event.timeStamp), true);
      const ask = window.fetch;
      window.fetch = async (address, how) => {
        const answer = await ask(address, how);
        if (String(address).includes(path)) void answer.clone().json().then(() => setTimeout(note));
        return answer;
      };
    },
  };
})();
