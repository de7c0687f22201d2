// Moves what the page has drawn: reads the lunches, and shows one second of one of them.
"use strict";
(() => {
  const root = document.getElementById("motion-stage");
  if (!root) return;
  const $ = (id) => document.getElementById(id);
  const data = JSON.parse($("motion-data").textContent);
  const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
  const worth = new Map([...letters].map((letter, value) => [letter, value]));

  // Five bits a letter, least first; the upper half says that more follows.
  const numbers = (text) => {
    const out = [];
    let value = 0, unit = 1;
    for (const letter of text) {
      const part = worth.get(letter);
      value += (part & 31) * unit;
      if (part & 32) { unit *= 32; } else { out.push(value); value = 0; unit = 1; }
    }
    return out;
  };
  const unfold = (folded) => folded % 2 ? -(folded + 1) / 2 : folded / 2;
  // Seconds and values by turns become two lists.
  const track = (from, first, text, next) => {
    const told = numbers(text), at = [], values = [];
    let second = from, value = first;
    for (let i = 0; i < told.length; i += 2) {
      second += told[i];
      value = next(value, told[i + 1]);
      at.push(second);
      values.push(value);
    }
    return { first, at, values };
  };
  const level = (held, by) => held + unfold(by);
  const doing = (_, number) => number;
  const films = data.films.map((film) => ({
    ...film,
    places: film.places.map(([first, text]) => track(film.from, first, text, level)),
    actors: film.actors.map(([first, text]) => track(film.from, first, text, doing)),
    counts: film.counts.map((text) => track(film.from, 0, text, level)),
  }));
  // The last value told not after this second.
  const valueAt = (told, second) => {
    let low = 0, high = told.at.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (told.at[middle] <= second) low = middle + 1; else high = middle;
    }
    return low ? told.values[low - 1] : told.first;
  };

  const two = (number) => String(number).padStart(2, "0");
  const clock = (second) =>
    two(Math.floor(second / 3600) % 24) + ":" + two(Math.floor(second / 60) % 60) + ":" + two(second % 60);

  const strip = $("motion-strip");
  const places = [...strip.querySelectorAll("[data-place]")].map((group) => ({
    group,
    number: Number(group.dataset.number),
    tally: group.querySelector(".tally"),
    each: group.querySelector(".each"),
    marks: [...group.querySelectorAll(".m")],
    bar: group.querySelector(".level"),
  }));
  const machines = [...strip.querySelectorAll(".state[data-actor]")];
  const workers = [...strip.querySelectorAll("[data-worker]")].map((group) => ({
    group, number: Number(group.dataset.worker), doing: group.querySelector(".doing"),
  }));
  const tallies = [...strip.querySelectorAll("[data-count]")];
  const desc = $("motion-desc"), said = $("motion-words"), slider = $("motion-time");

  let film = films[0], now = film.worst, playing = false;

  const show = (second) => {
    now = Math.max(film.from, Math.min(film.to, Math.round(second)));
    const held = film.places.map((told) => valueAt(told, now));
    const does = film.actors.map((told) => data.doings[valueAt(told, now)]);
    const jams = new Set(does.map(([, because]) => because));
    for (const place of places) {
      const count = held[place.number], { room, weight } = data.places[place.number];
      const say = (number) => weight ? (Math.round(number / weight[0] * 10) / 10).toFixed(1) : String(number);
      place.tally.textContent = say(count) + (room === null ? "" : " of " + say(room)) + (weight ? " " + weight[1] : "");
      const each = data.places[place.number].each[films.indexOf(film)] || 1;
      const lit = Math.ceil(count / each);
      if (place.each) place.each.textContent = each > 1 ? ", a mark for " + each : "";
      place.marks.forEach((mark, number) => mark.classList.toggle("on", number < lit));
      if (place.bar) {
        const share = Math.min(1, count / Number(place.bar.dataset.full));
        place.bar.setAttribute("width", (Number(place.bar.dataset.width) * share).toFixed(1));
      }
      place.group.classList.toggle("jam", jams.has(place.number));
    }
    for (const text of machines) {
      const number = Number(text.dataset.actor);
      text.textContent = data.long[does[number][0]];
    }
    const standing = new Map();
    for (const worker of workers) {
      const [state, , post] = does[worker.number];
      // Those at other work stand with those who are away.
      const at = post >= 0 && data.other[post] ? -1 : post;
      const spot = at < 0 ? data.away : data.posts[at];
      const nth = standing.get(at) || 0;
      standing.set(at, nth + 1);
      const x = spot.x + (nth % spot.row) * data.person[0];
      const y = spot.y + Math.floor(nth / spot.row) * data.person[1];
      worker.group.setAttribute("transform", "translate(" + x.toFixed(1) + " " + y.toFixed(1) + ")");
      worker.group.setAttribute("class", "worker " + state);
      worker.doing.textContent = data.short[state] || (post >= 0 && data.other[post] ? "other work" : "");
    }
    tallies.forEach((text) => { text.textContent = valueAt(film.counts[Number(text.dataset.count)], now); });
    $("motion-clock").textContent = clock(now);
    const sum = (role) => held.reduce((all, count, number) => data.places[number].role === role ? all + count : all, 0);
    const stuck = does
      .map(([, because], number) => because < 0 ? "" : data.actors[number][0] + " held up by " + data.places[because].title)
      .filter((text) => text);
    const moment = clock(now) + ": " + sum("standing") + " standing with a tray, " + sum("backlog")
      + " trays waiting to be cleared, " + sum("filled_racks") + " racks before the machine, " + sum("washing")
      + " inside; " + (stuck.length ? stuck.join(", ") : "nobody held up") + ".";
    desc.textContent = moment;
    said.textContent = moment;
    slider.value = now;
    slider.setAttribute("aria-valuetext", clock(now));
  };

  const still = window.matchMedia("(prefers-reduced-motion: reduce)");
  const speed = $("motion-speed"), play = $("motion-play");
  let timer = 0, frame = 0, last = 0, exact = 0;
  const stop = () => {
    playing = false;
    play.textContent = "Play";
    said.setAttribute("aria-live", "polite");
    clearInterval(timer);
    cancelAnimationFrame(frame);
  };
  const go = (to) => {
    show(to);
    if (now >= film.to) stop();
  };
  const turn = (at) => {
    if (!playing) return;
    exact += (at - last) / 1000 * Number(speed.value);
    last = at;
    if (Math.floor(exact) !== now) go(Math.floor(exact));
    if (playing) frame = requestAnimationFrame(turn);
  };
  const start = () => {
    if (now >= film.to) show(film.from);
    playing = true;
    play.textContent = "Pause";
    // Read out when it rests, not while it runs.
    said.setAttribute("aria-live", "off");
    if (still.matches) {
      timer = setInterval(() => go(now + 60), 1000);
    } else {
      exact = now;
      last = performance.now();
      frame = requestAnimationFrame(turn);
    }
  };
  const calm = () => {
    $("motion-still").hidden = !still.matches;
    speed.disabled = still.matches;
    if (playing) { stop(); }
  };
  still.addEventListener("change", calm);
  play.addEventListener("click", () => playing ? stop() : start());
  root.querySelectorAll("[data-step]").forEach((button) => button.addEventListener("click", () => {
    stop();
    show(now + Number(button.dataset.step));
  }));
  $("motion-worst").addEventListener("click", () => { stop(); show(film.worst); });
  slider.addEventListener("input", () => { stop(); show(Number(slider.value)); });
  root.querySelectorAll("[name=motion-film]").forEach((choice) => choice.addEventListener("change", () => {
    stop();
    film = films[Number(choice.value)];
    slider.min = film.from;
    slider.max = film.to;
    $("motion-film-words").textContent = film.words.charAt(0).toUpperCase() + film.words.slice(1);
    show(film.worst);
  }));
  $("motion-print").addEventListener("click", () => {
    stop();
    document.body.classList.add("print-frame");
    window.print();
  });
  window.addEventListener("afterprint", () => document.body.classList.remove("print-frame"));
  document.addEventListener("visibilitychange", () => { if (document.hidden && playing) stop(); });
  $("motion-controls").hidden = false;
  calm();
  show(now);
})();
