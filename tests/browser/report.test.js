// The report in a browser: opened from disk, walked by keyboard, played, printed, looked over for accessibility.
//
// SCULLERY_OUT names a folder written by `scullery run`; SCULLERY_LEVELS the program that tells what a lunch holds.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, existsSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { after, before, test } from "node:test";
import { fileURLToPath, pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const folder = resolve(process.env.SCULLERY_OUT ?? "scullery-out");
const levels = process.env.SCULLERY_LEVELS;
const program = process.env.SCULLERY_BROWSER ?? "/usr/bin/chromium";
const axe = readFileSync(fileURLToPath(import.meta.resolve("axe-core")), "utf8");
const summary = JSON.parse(readFileSync(join(folder, "summary.json"), "utf8"));
const pages = ["report.html", "wall-sheet.html", "element-schedule.html", "options.html"]
  .filter((name) => existsSync(join(folder, name)));

let context, profile;
before(async () => {
  profile = mkdtempSync(join(tmpdir(), "browser-"));
  context = await chromium.launchPersistentContext(profile, {
    executablePath: program,
    viewport: { width: 1200, height: 900 },
    args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
      "--disable-background-networking", "--disable-component-update", "--disable-sync"],
  });
});
after(async () => {
  await context?.close();
  rmSync(profile, { recursive: true, force: true });
});

// A page opened from disk, with all it asked for and all it complained of.
const open = async (name, { scheme = "light", motion = "no-preference", width = 1200 } = {}) => {
  const page = await context.newPage();
  const asked = [], complaints = [];
  page.on("request", (request) => asked.push(request.url()));
  page.on("console", (message) => { if (message.type() === "error" || message.type() === "warning") complaints.push(message.text()); });
  page.on("pageerror", (error) => complaints.push(error.message));
  await page.setViewportSize({ width, height: 900 });
  await page.emulateMedia({ colorScheme: scheme, reducedMotion: motion });
  await page.goto(pathToFileURL(join(folder, name)).href);
  await page.evaluate(() => document.fonts.ready);
  return { page, asked, complaints };
};

for (const name of pages) {
  test(`${name} opens from disk, asks for nothing else and complains of nothing`, async () => {
    const { page, asked, complaints } = await open(name);
    await page.waitForTimeout(200);
    const outside = asked.filter((url) => !url.startsWith("data:"));
    assert.deepEqual(outside, [pathToFileURL(join(folder, name)).href]);
    assert.deepEqual(complaints, []);
    assert.ok(await page.evaluate(() => document.fonts.check('1rem "Scullery Sans"')));
    await page.close();
  });

  for (const width of [360, 768, 1900]) {
    test(`${name} is no wider than a window of ${width}`, async () => {
      const { page } = await open(name, { width });
      assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth));
      await page.close();
    });
  }

  for (const scheme of ["light", "dark"]) {
    test(`${name} has no finding of WCAG 2.1 A or AA, ${scheme}`, async () => {
      const { page } = await open(name, { scheme });
      await page.evaluate(() => document.querySelectorAll("details").forEach((it) => { it.open = true; }));
      await page.evaluate(axe);
      const found = await page.evaluate(() => window.axe.run(document, {
        runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "best-practice"],
      }));
      const told = found.violations.map((it) => `${it.impact} ${it.id}: ${it.help}: ${it.nodes.slice(0, 3).map((n) => n.html.slice(0, 160)).join(" | ")}`);
      assert.deepEqual(told, []);
      assert.ok(found.passes.length > 15, "it looked at something");
      await page.close();
    });
  }

  for (const format of ["A4", "Letter"]) {
    test(`${name} prints on ${format} with no picture or table cut`, async () => {
      const { page } = await open(name);
      const landscape = name !== "report.html" && name !== "options.html";
      // The room between the margins, as the style sets them, in CSS pixels.
      const [short, long] = format === "A4" ? [210, 297] : [215.9, 279.4];
      const margin = name === "report.html" ? 14 : name === "wall-sheet.html" ? 9 : 12;
      const mm = (landscape || name === "options.html" ? long : short) - 2 * margin;
      await page.emulateMedia({ media: "print" });
      await page.setViewportSize({ width: Math.floor(mm / 25.4 * 96), height: 1000 });
      const wide = await page.evaluate(() => {
        const room = document.documentElement.clientWidth;
        return [...document.querySelectorAll("svg, table, figure, .scroll, .picture")]
          .filter((it) => it.getClientRects().length && it.getBoundingClientRect().right > room + 1)
          .map((it) => it.outerHTML.slice(0, 120));
      });
      assert.deepEqual(wide, []);
      const high = await page.evaluate((most) => [...document.querySelectorAll("figure .picture svg, .strip-plan svg")]
        .filter((it) => it.getBoundingClientRect().height > most).map((it) => it.outerHTML.slice(0, 120)),
      ((landscape ? short : long) - 2 * margin) / 25.4 * 96);
      assert.deepEqual(high, []);
      const bytes = await page.pdf({ format, preferCSSPageSize: false, landscape: landscape || name === "options.html" });
      const count = (bytes.toString("latin1").match(/\/Type\s*\/Page[^s]/g) ?? []).length;
      assert.ok(count > 0, "it has pages");
      if (name === "wall-sheet.html") assert.equal(count, 1, "the sheet for the wall is one page");
      await page.close();
    });
  }
}

test("every picture has a name, a description and a table beside it", async () => {
  const { page } = await open("report.html");
  const bare = await page.evaluate(() => [...document.querySelectorAll("figure")].filter((figure) => {
    const svg = figure.querySelector("svg[role=img]");
    const named = svg && svg.querySelector("title")?.textContent && svg.querySelector("desc")?.textContent;
    const beside = figure.nextElementSibling?.matches("details") && figure.nextElementSibling.querySelector("table");
    return !named || !beside;
  }).map((figure) => figure.id));
  assert.deepEqual(bare, []);
  const levels = await page.evaluate(() => [...document.querySelectorAll("h1, h2, h3")].map((it) => Number(it.tagName[1])));
  assert.equal(levels.filter((level) => level === 1).length, 1);
  assert.ok(levels.every((level, at) => at === 0 || level - levels[at - 1] <= 1), "no heading skips a level");
  await page.close();
});

test("the keyboard reaches everything in reading order and can play the lunch", async () => {
  const { page } = await open("report.html");
  await page.keyboard.press("Tab");
  assert.equal(await page.evaluate(() => document.activeElement.className), "skip");
  const wanted = await page.evaluate(() => [...document.querySelectorAll("a[href], button, input, select, summary, [tabindex='0']")]
    .filter((it) => it.getClientRects().length && !it.disabled)
    // What a closed part hides is not reached, nor, one by one, the choices of one question.
    .filter((it) => it.matches("summary") || !it.closest("details:not([open])"))
    .filter((it) => it.type !== "radio" || it.checked).length);
  const walked = [];
  for (let step = 0; step < wanted + 5; step += 1) {
    const at = await page.evaluate(() => {
      const it = document.activeElement;
      const all = [...document.querySelectorAll("*")];
      const style = getComputedStyle(it);
      return it === document.body ? null : { place: all.indexOf(it), ring: style.outlineStyle !== "none" && style.outlineWidth !== "0px" };
    });
    if (!at) break;
    walked.push(at);
    await page.keyboard.press("Tab");
  }
  assert.ok(walked.length === wanted, `${walked.length} of ${wanted} reached`);
  assert.ok(walked.every((at, n) => n === 0 || at.place > walked[n - 1].place), "in reading order");
  assert.ok(walked.every((at) => at.ring), "and each is seen to have the focus");
  const clock = () => page.textContent("#motion-clock");
  await page.focus("#motion-time");
  const before = await clock();
  await page.keyboard.press("ArrowRight");
  const next = await clock();
  assert.notEqual(next, before);
  await page.focus("#motion-play");
  await page.keyboard.press("Enter");
  await page.waitForTimeout(700);
  await page.keyboard.press("Enter");
  const played = await clock();
  assert.ok(played > next, `${next} to ${played}`);
  await page.close();
});

test("less motion asked for is given: stills a minute apart, nothing slides", async () => {
  const { page } = await open("report.html", { motion: "reduce" });
  const at = async () => Number(await page.inputValue("#motion-time"));
  const begin = await at();
  assert.ok(await page.isVisible("#motion-still"));
  await page.click("#motion-play");
  await page.waitForTimeout(1500);
  await page.click("#motion-play");
  assert.equal(await at(), begin + 60);
  assert.equal(await page.evaluate(() => getComputedStyle(document.querySelector(".worker")).transitionDuration), "0s");
  await page.close();
});

test("steps, speeds and the jump to the worst minute do what they say", async () => {
  const { page } = await open("report.html");
  const at = async () => Number(await page.inputValue("#motion-time"));
  const worst = await at();
  const step = async (name, by) => {
    const from = await at();
    await page.click(name);
    assert.equal(await at(), from + by, name);
  };
  await step("[data-step='60']", 60);
  await step("[data-step='-60']", -60);
  await step("[data-step='5']", 5);
  await step("[data-step='-5']", -5);
  await page.evaluate(() => { const it = document.getElementById("motion-time"); it.value = it.min; it.dispatchEvent(new Event("input")); });
  const played = async (speed) => {
    const from = await at();
    await page.selectOption("#motion-speed", String(speed));
    await page.click("#motion-play");
    await page.waitForTimeout(600);
    await page.click("#motion-play");
    return await at() - from;
  };
  const slow = await played(10), fast = await played(600);
  assert.ok(slow >= 2 && fast > 10 * slow, `${slow} and ${fast}`);
  await page.click("#motion-worst");
  assert.equal(await at(), worst);
  await page.close();
});

test("the moving picture shows at twenty times what the record holds", { skip: levels ? false : "no SCULLERY_LEVELS" }, async () => {
  const { page } = await open("report.html");
  const repeats = (await page.getAttribute("#motion-stage", "data-repeats")).split(" ");
  for (const [number, repeat] of repeats.entries()) {
    if (repeats.length > 1) await page.check(`[name=motion-film][value='${number}']`);
    const [from, to] = await page.evaluate(() => { const it = document.getElementById("motion-time"); return [Number(it.min), Number(it.max)]; });
    const seconds = Array.from({ length: 20 }, (_, n) => Math.round(from + (to - from) * (n + 0.5) / 20));
    const told = JSON.parse(execFileSync(levels, [String(summary.seed), repeat, ...seconds.map(String)], { encoding: "utf8" }));
    let moved = 0;
    for (const moment of told) {
      const shown = await page.evaluate((second) => {
        const slider = document.getElementById("motion-time");
        slider.value = second;
        slider.dispatchEvent(new Event("input"));
        const lit = (group) => group.querySelectorAll(".m.on").length;
        return {
          places: [...document.querySelectorAll("[data-place]")].map((group) => ({
            id: group.dataset.place,
            tally: group.querySelector(".tally").textContent,
            lit: group.querySelector(".m") ? lit(group) : null,
            // A bar is drawn to a tenth of a point.
            pixel: group.querySelector(".level") ? 0.06 / Number(group.querySelector(".level").dataset.width) * Number(group.querySelector(".level").dataset.full) : null,
            each: Number(group.querySelector(".each")?.textContent.match(/\d+/)?.[0] ?? 1),
            share: group.querySelector(".level") ? Number(group.querySelector(".level").getAttribute("width")) / Number(group.querySelector(".level").dataset.width) * Number(group.querySelector(".level").dataset.full) : null,
          })),
          counts: [...document.querySelectorAll("[data-count]")].map((it) => Number(it.textContent)),
          crew: [...document.querySelectorAll("[data-worker]")].map((it) => [it.querySelector("title").textContent, it.getAttribute("class").split(" ")[1]]),
        };
      }, moment.second);
      assert.ok(shown.places.length > 10);
      for (const place of shown.places) {
        const held = moment.places[place.id];
        assert.equal(Number(place.tally.split(" ")[0]), held, `${place.id} at ${moment.second}`);
        if (place.lit !== null) assert.equal(place.lit, Math.ceil(held / place.each), `marks of ${place.id} at ${moment.second}`);
        if (place.share !== null) assert.ok(Math.abs(place.share - held) <= place.pixel, `bar of ${place.id} at ${moment.second}`);
        moved += held > 0 ? 1 : 0;
      }
      assert.deepEqual(shown.counts, [moment.served, moment.dropped_off, moment.cleared]);
      const words = { HandWash: "hand_wash", HeldUp: "held_up", PastShift: "past_shift" };
      for (const [name, state] of shown.crew) {
        const so = moment.crew[name];
        assert.equal(state, words[so] ?? so.toLowerCase(), `${name} at ${moment.second}`);
      }
    }
    assert.ok(moved > 100, "the lunch moves");
  }
  await page.close();
});

test("each frame can be printed alone", async () => {
  const { page } = await open("report.html");
  await page.evaluate(() => { window.print = () => { window.printed = document.body.className; }; });
  await page.click("#motion-print");
  assert.equal(await page.evaluate(() => window.printed), "print-frame");
  const whole = await context.newPage();
  await whole.goto(pathToFileURL(join(folder, "report.html")).href);
  const all = await whole.pdf({ format: "A4" });
  await whole.close();
  const one = await page.pdf({ format: "A4" });
  const count = (bytes) => (bytes.toString("latin1").match(/\/Type\s*\/Page[^s]/g) ?? []).length;
  assert.equal(count(one), 1);
  assert.ok(count(all) > 5);
  await page.close();
});

test("without scripts the page stands with a still and tables of both lunches", async () => {
  const browser = await chromium.launch({ executablePath: program, args: ["--headless", "--no-sandbox", "--disable-gpu"] });
  const page = await (await browser.newContext({ javaScriptEnabled: false })).newPage();
  await page.goto(pathToFileURL(join(folder, "report.html")).href);
  assert.ok(!await page.isVisible("#motion-controls"));
  assert.ok(await page.isVisible("#motion-strip"));
  assert.match(await page.textContent("#motion noscript"), /Without scripts/);
  assert.match(await page.textContent("#motion-clock"), /^\d\d:\d\d:\d\d$/);
  assert.ok(await page.locator("#motion details table").count() >= 1);
  await browser.close();
});

test("the page is small", () => {
  assert.ok(readFileSync(join(folder, "report.html")).length < 3_000_000);
});
