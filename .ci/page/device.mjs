// A device at the page, for the browser checks. Run by run.sh, which builds what they need: PAGE (the program), TREE (the
// repository), SURVEY (the program survey), RESULT (its JSON of its demonstration), DRAWN (folders of invented surveys
// with its JSON of each), SINGLE (the page as one file), SHOTS (a folder for pictures).
import { before, after } from "node:test";
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { mkdirSync, readFileSync } from "node:fs";
import puppeteer from "puppeteer-core";
import { Hand } from "./hand.mjs";

export const { PAGE, TREE, RESULT, DRAWN, SHOTS, SINGLE, SURVEY } = process.env;
export const demo = TREE + "/examples/survey/demo/";
const phone = { width: 390, height: 844, hasTouch: true, isMobile: true, deviceScaleFactor: 1 };
export const steps = [
  "",
  "trouble",
  "fire",
  "web",
  "path",
  "path/0",
  "path/2",
  "path/4",
  "path/5",
  "path/8",
  "ground",
  "readings",
  "answer",
  "plan",
  "try",
  "compare",
  "keep",
  "files",
];
export let url;
let server, browser;

before(
  async () => {
    mkdirSync(SHOTS, { recursive: true });
    server = spawn(PAGE, ["-addr", "127.0.0.1:0"], { cwd: TREE, stdio: ["ignore", "pipe", "inherit"] });
    url = await new Promise((ok) => server.stdout.on("data", (d) => ok(String(d).trim())));
    browser = await puppeteer.launch({
      executablePath: process.env.CHROMIUM || "/usr/bin/chromium",
      headless: true,
      protocolTimeout: 300000,
      args: [
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
      ],
    });
  },
  { timeout: 300000 },
);
after(async () => {
  await browser?.close();
  server?.kill();
});

// open gives a fresh device at the page; every request elsewhere and every error of the page is a failure.
export async function open(t, at = url) {
  const c = await browser.createBrowserContext();
  const p = await c.newPage();
  p.setDefaultTimeout(120000);
  p.faults = [];
  await p.setViewport(phone);
  p.on("pageerror", (e) => p.faults.push(e.message));
  await p.evaluateOnNewDocument(() =>
    window.addEventListener("unhandledrejection", (e) => console.error("unhandled: " + e.reason)),
  );
  p.on("console", (m) => {
    if (m.type() === "error" && !/ERR_INTERNET_DISCONNECTED|ERR_FAILED|503/.test(m.text())) p.faults.push(m.text());
  });
  const own = at && at.startsWith("http") ? at : url;
  p.on("request", (r) => {
    if (!r.url().startsWith(own) && !/^(blob|data|file):/.test(r.url())) p.faults.push("asked " + r.url());
  });
  t.after(async () => {
    await c.close();
    assert.deepEqual(p.faults, []);
  });
  if (at) await p.goto(at);
  return [p, new Hand(p), c];
}
export const ready = (p) => p.waitForFunction("P.compute.state === 'ready'", { timeout: 120000 });
export async function openDemo(p) {
  await ready(p);
  await p.evaluate(
    async (l, s) => {
      await P.openFiles([new File([l], "l.json"), new File([s], "s.csv")]);
    },
    readFileSync(demo + "line.json", "utf8"),
    readFileSync(demo + "survey.csv", "utf8"),
  );
  await p.waitForFunction("P.answer && P.answer.verdict", { timeout: 120000 });
}
export const result = () => readFileSync(RESULT, "utf8");
// resultOf is the page's JSON of the line that is open.
export const resultOf = (p) => p.evaluate(async () => (await P.ask("result", P.request(P.line))).result);
