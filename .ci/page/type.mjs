// Plant A typed from its paper, and from its files.

// typeLine types a description as a person would from paper; what is not typed is what the page assumes.
export async function typeLine(h, d) {
  await h.tap("New line");
  await h.fill("Name of the line", d.name);
  if (d.note) await h.fill("A line for the report", d.note);
  await h.pick("people get shocks");
  await h.fill("Since when?", "January");
  await h.tap("Next");
  await h.pick("no: the assessment of this place says so");
  await h.fill("Who assessed it, and when?", "invented");
  await h.tap("Next");
  await h.choose("Material", d.web.material);
  await h.quantity("Thickness", d.web.thickness);
  await h.quantity("Width", d.web.width, true);
  await h.quantity("Speed now", d.speed);
  await h.quantity("Speed wanted", d.wish);
  await h.quantity("Temperature", d.air.temperature);
  await h.quantity("Relative humidity", d.air.relativeHumidity.replace("%RH", " %RH"));
  await h.tap("More about it");
  await h.quantity("Air pressure", d.air.pressure, true);
  await h.tap("Next");
  const add = {
    place: "place to read",
    roller: "metal roller",
    nip: "nip of two rollers",
    ioniser: "ioniser with power",
  };
  for (const [i, s] of d.stations.entries()) {
    if (s.kind === "unwind") continue;
    h.looks++;
    if (s.kind === "winder") {
      await h.tap("Back to the path");
      await h.tap(s.name);
    } else await h.tap(s.kind === "roller" && /lay-on/.test(s.name) ? "lay-on roller" : add[s.kind]);
    await h.fill("Name", s.name);
    await h.quantity("Position along the web", s.at, i % 2 === 0);
    if (s.kind === "roller" && s.change[0].face === "A") await h.pick("face A", "The web lies on it with");
    if (s.past) {
      await h.pick("a roller that the web has just left");
      await h.quantity("Diameter of that roller", 2 * parseFloat(s.past.radius) + " mm");
      await h.quantity("Past the roller by", s.past.x);
    } else if (s.gap) await h.quantity("Distance to the metal behind", s.gap);
    for (const o of s.off || []) await h.pick(o, "Ionisers switched off while readings are taken here");
    if (s.ioniser && s.ioniser.bar) await typeMaker(h, s.ioniser.bar);
  }
}

// typeMaker types what the maker's sheet of a bar says.
async function typeMaker(h, bar) {
  await h.choose("What the maker's sheet calls it", bar.kind);
  await h.quantity("Voltage of the points", bar.voltage);
  await h.quantity("Frequency", bar.frequency);
  await h.quantity("Voltage at which corona starts", bar.start);
  await h.quantity("Distance between points", bar.pitch);
  await h.quantity("Current of each polarity per length, clean", bar.current);
  await h.quantity("Share left by dirt and wear", bar.output);
}

// typeReadings types the rows of a survey in their order.
export async function typeReadings(h, rows) {
  let step = "",
    quantity = "",
    station = "",
    remark = "";
  for (const r of rows) {
    const ground = r.quantity === "resistance to ground";
    if (step !== (ground ? "ground" : "readings")) {
      step = ground ? "ground" : "readings";
      await h.step(step);
      if (!ground) {
        await h.tap("I have read this");
        await h.tap("The meters");
        const names = await h.p.$$("fieldset input[maxlength='120']");
        for (const [i, n] of ["meter 1", "voltmeter 1"].entries()) {
          const e = names[i];
          await e.evaluate((x) => {
            x.scrollIntoView({ block: "center" });
            x.focus();
            x.select();
          });
          await h.p.keyboard.type(n);
        }
        await h.step("readings");
      }
      await h.tap("More about this reading");
      quantity = station = "";
      remark = "";
    }
    if (!ground && quantity !== r.quantity) {
      quantity = r.quantity;
      await (await h.byLabel("What was read", "select")).select(quantity);
      station = "";
    }
    if (station !== r.station) {
      station = r.station;
      await h.choose(ground ? "Which conductor" : quantity === "field meter" ? "Where" : "Over which roller", station);
    }
    if (!ground) {
      await h.pick("face " + r.face, "The meter looks at");
      await h.pick(Number(r.value) < 0 ? "− minus" : "+ plus", "Sign on the display");
    }
    await h.fill("The display shows", r.value.replace("-", "").replace(".", Number(r.value) % 1 ? "," : "."));
    await h.choose("Unit of: The display shows", r.unit);
    await h.fill("When", r["date and time"].replace(" ", "T"));
    if (r["cross-web position"]) await h.quantity("Position across the web", r["cross-web position"]);
    await h.quantity("Temperature there", r["air temperature"]);
    await h.quantity("Humidity there", r["air humidity"].replace("%RH", " %RH"));
    if (remark !== r.remark) {
      remark = r.remark;
      await h.fill("Remark", remark);
    }
    await h.tap("Add this reading");
  }
}

// typePaper types what the surveyor's paper holds of the readings: the place once, then display after display; no times,
// spots across the web by front, middle and back, no weather of each.
export async function typePaper(h, rows, width) {
  let station = "",
    quantity = "";
  const ground = rows.filter((r) => r.quantity === "resistance to ground");
  await h.tap("Next");
  for (const r of ground) {
    h.looks++;
    await h.choose("Which conductor", r.station); // in path order it stands there already
    await h.choose("Unit of: The display shows", r.unit);
    await h.fill("The display shows", r.value);
    await h.enter();
  }
  await h.tap("Next");
  await h.tap("I have read this");
  for (const r of rows.filter((x) => x.quantity !== "resistance to ground")) {
    h.looks++;
    if (quantity !== r.quantity) await h.choose("What was read", r.quantity);
    if (station !== r.station) {
      const next = await h.p.$("[data-next]");
      if (quantity === r.quantity && next && (await next.evaluate((e) => e.textContent)).endsWith(r.station))
        await h.tapOn(next);
      else await h.choose(r.quantity === "field meter" ? "Where" : "Over which roller", r.station);
    }
    [station, quantity] = [r.station, r.quantity];
    await h.pick("face " + r.face, "The meter looks at");
    await h.pick(Number(r.value) < 0 ? "− minus" : "+ plus", "Sign on the display");
    const share = parseFloat(r["cross-web position"]) / parseFloat(width);
    await h.pick(share < 1 / 3 ? "front" : share < 2 / 3 ? "middle" : "back", "Across the web");
    await h.fill("The display shows", r.value.replace("-", ""));
    await h.enter();
  }
}

// csv reads the survey's file, which quotes some names.
export function csv(text) {
  const rows = text
    .trim()
    .split(/\r?\n/)
    .map((l) =>
      [...l.matchAll(/("(?:[^"]|"")*"|[^,]*)(?:,|$)/g)].map((m) => m[1].replace(/^"|"$/g, "").replaceAll('""', '"')),
    );
  const head = rows.shift();
  return rows.map((r) => Object.fromEntries(head.map((k, i) => [k, r[i] || ""])));
}
