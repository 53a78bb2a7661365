"""Tests of the client: python3 -m unittest pithball_test, with PITHBALL_SERVE naming a built server or Go installed."""
import os
import signal
import sys
import io
import json
import keyword
import math
import shutil
import tempfile
import threading
import time
import unittest
import warnings
from unittest import mock

try:
    import numpy
except ImportError:
    numpy = None

import pithball

from pithball import BadRows, Hazard, Pithball, PithballError

REAL = [os.environ["PITHBALL_SERVE"], "-attached"] if os.environ.get("PITHBALL_SERVE") else None

# A server that answers a question with its own number and misbehaves on demand.
FAKE = [sys.executable, "-u", "-c", r'''
import json, sys, time
for line in sys.stdin:
    q = json.loads(line)
    id, p = q["id"], q["params"]
    def say(i, r): print(json.dumps({"jsonrpc": "2.0", "id": i, "result": r}), flush=True)
    if q["method"] == "hello":
        say(id, {"version": "0", "constants": "", "computations": []}); continue
    time.sleep(p.get("wait", 0))
    if "far" in p: print(json.dumps({"jsonrpc": "2.0", "method": "progress", "params": p["far"]}), flush=True)
    if "stale" in p: say(id - 1, "the answer to another question")
    if "future" in p: say(id + 7, "the answer to another question")
    if "no" in p: print("out of order", file=sys.stderr); sys.exit(3)
    say(id, p["n"])
''']


def packages(p):
    return [v for v in vars(p).values() if isinstance(v, pithball.Package)]


def middle(f):
    """Arguments of f inside their ranges, as a user would write them: the default, a choice by its name, a number."""
    given = {}
    for a in f.entry["args"]:
        low, high = a["low"], a["high"]
        if a.get("choices"):
            x = a["choices"][int(a["default"]) if "default" in a else -1]
        elif "default" in a:
            x = a["default"]
        elif low > 0:
            x = math.sqrt(low) * math.sqrt(high)
        else:
            x = min(max(low, high / 2), 0.5) if high > 0 else high
        given[a["name"] + ("_" if keyword.iskeyword(a["name"]) else "")] = x
    return given


# Computations of seconds: they have tests of their own.
SLOW = ("transport.", "survey.", "cure.", "upkeep.", "ensemble.", "ioniser.BlownSearch", "ioniser.PointSearch", "ioniser.Clean",
        "sheet.FreeSpan")


class Client(unittest.TestCase):
    def client(self, command):
        p = Pithball(command)
        self.addCleanup(p.close)
        return p

    def test_threads_get_their_own_answers(self):
        p, wrong = self.client(REAL), []

        def work(k):
            for i in range(100):
                gap = 0.01 * (1 + k) + 1e-4 * i
                got = p.field.FieldFactor(distance=0.025, gap=gap)
                if abs(got - gap / (0.025 + gap)) > 1e-12:  # h/(d+h)
                    wrong.append((k, i, got))

        threads = [threading.Thread(target=work, args=(k,)) for k in range(4)]
        for t in threads:
            t.start()
        for t in threads:
            t.join()
        self.assertEqual(wrong, [])

    def test_interrupt(self):
        if not hasattr(signal, "setitimer"):
            self.skipTest("no interval timer")
        p = self.client(FAKE)

        def interrupt(*_):
            raise KeyboardInterrupt

        before = signal.signal(signal.SIGALRM, interrupt)
        self.addCleanup(signal.signal, signal.SIGALRM, before)
        signal.setitimer(signal.ITIMER_REAL, 0.2)
        with self.assertRaises(KeyboardInterrupt):
            p.call("echo", n=1, wait=0.6)
        for n in range(2, 6):
            self.assertEqual(p.call("echo", n=n), n)

    def test_an_interrupted_computation_computes_no_longer(self):
        if not os.path.isdir("/proc") or not hasattr(signal, "setitimer"):
            self.skipTest("Linux")
        p = self.client(REAL)
        given = dict(positive=1e13, negative=1e13, mobility_positive=1.4e-4, mobility_negative=1.6e-4, recombination=1.6e-12,
                     length=0.1, flow="uniform", speed=2, origin=0.1, temperature=293, charge=1e-6, back_gap=0, drive="sine",
                     frequency=1000)

        def interrupt(*_):
            raise KeyboardInterrupt

        before = signal.signal(signal.SIGALRM, interrupt)
        self.addCleanup(signal.signal, signal.SIGALRM, before)
        for time_ in 10, [10, 10, 10, 10]:  # minutes of work
            pid = p._process.pid
            signal.setitimer(signal.ITIMER_REAL, 0.3)
            start = time.monotonic()
            with self.assertRaises(KeyboardInterrupt):
                p.transport.Transient_Advance(time=time_, **given)
            self.assertLess(time.monotonic() - start, 5)
            self.assertFalse(os.path.exists(f"/proc/{pid}"), "the old server is still there")
            self.assertEqual(float(p.field.FieldFactor(0.025, 0.025)), 0.5)

    def test_cancel(self):
        p = self.client(REAL)
        p._ask("hello", {}, None)
        p._process.stdin.write(b'{"method":"cancel","params":{"id":1}}\n')  # of a question that is answered already
        p._process.stdin.flush()
        self.assertEqual(float(p.field.FieldFactor(0.025, 0.025)), 0.5)

    def test_interrupt_does_not_reach_the_server(self):
        if os.name == "nt":
            self.skipTest("POSIX groups")
        p = self.client(FAKE)
        self.assertNotEqual(os.getpgid(p._process.pid), os.getpgid(0))

    def test_stale_answers_are_dropped(self):
        p = self.client(FAKE)
        self.assertEqual(p.call("echo", n=1, stale=True), 1)
        self.assertEqual(p.call("echo", n=2), 2)

    def test_an_answer_to_no_question_is_an_error(self):
        p = self.client(FAKE)
        with self.assertRaisesRegex(RuntimeError, "another|where"):
            p.call("echo", n=1, future=True)
        self.assertEqual(p.call("echo", n=2), 2)

    def test_a_server_that_ends_is_reported_and_started_anew(self):
        p = self.client(FAKE)
        with self.assertRaisesRegex(RuntimeError, "out of order"):
            p.call("echo", n=1, no=True)
        self.assertEqual(p.call("echo", n=2), 2)

    def test_a_fault_leaves_the_server_alone(self):
        p = self.client(REAL)
        pid = p._process.pid
        with self.assertRaises(PithballError) as e:
            p.field.FieldFactor(distance=-1, gap=0.025)
        self.assertIn("distance", e.exception.field)
        for bad in ([0.1, None], None):  # null is no 0
            with self.assertRaises(PithballError) as e:
                p.field.FieldFactor(distance=0.025, gap=bad)
            self.assertIn("gap", e.exception.field)
        self.assertEqual(p._process.pid, pid)

    def test_fork(self):
        if not hasattr(os, "fork"):
            self.skipTest("no fork")
        p = self.client(FAKE)
        r, w = os.pipe()
        child = os.fork()
        if child == 0:
            ok = all(p.call("echo", n=-n) == -n for n in range(1, 50))
            p.close()
            os.write(w, b"1" if ok else b"0")
            os._exit(0)
        self.assertTrue(all(p.call("echo", n=n) == n for n in range(1, 50)))
        os.waitpid(child, 0)
        self.assertEqual(os.read(r, 1), b"1")
        os.close(r)
        os.close(w)

    def test_arguments(self):
        p = self.client(REAL)
        f = p.field.FieldFactor
        self.assertEqual(float(f("25 mm", gap=0.025)), 0.5)
        self.assertEqual(f(0.025, [[0.025, 0.025], [0.025, 0.025]]), [[0.5, 0.5], [0.5, 0.5]])  # shape is kept
        self.assertEqual(f(0.025, []), [])
        n = pithball.CHUNK + 10
        long = f(0.025, [0.025] * n)
        self.assertEqual((len(long), set(long)), (n, {0.5}))
        with self.assertRaises(PithballError) as e:
            f(0.025, [0.025] * (n - 1) + [-1.0])
        self.assertEqual(e.exception.row, n - 1)
        self.assertIn(f"row {n - 1}:", str(e.exception))
        for bad, row in ([0.1, None], 1), ([0.1, float("nan")], 1), ([[0.1], [float("inf")]], 1), (float("nan"), None), (None, None), ("3", None), \
                ("3 kg", None), ([[1], [2, 3]], 1), (["x"], 0), (True, None):
            with self.assertRaises(PithballError, msg=repr(bad)) as e:
                f(0.025, bad)
            self.assertEqual((e.exception.field, e.exception.row), ("field.FieldFactor.gap", row), repr(bad))
        with self.assertRaisesRegex(AttributeError, "near it: .*FieldFactor.*; dir"):
            p.field.FieldFactr
        with self.assertRaisesRegex(TypeError, r"field.FieldFactor\(distance, gap.*\): missing .*'gap'"):
            f(0.025)
        with self.assertRaisesRegex(TypeError, r"field.FieldFactor\(distance, gap.*\): no argument width"):
            f(0.025, width=1)  # not "gap is missing": the slip is the name that was written
        with warnings.catch_warnings(record=True) as w:
            warnings.simplefilter("always")
            got = f(0.025, [0.025, float("nan"), -1], bad="nan")
        self.assertEqual([got[0], got[1] != got[1], got[2] != got[2]], [0.5, True, True])
        self.assertEqual([x.category for x in w], [BadRows])
        self.assertIn("row 1", str(w[0].message))

    def test_numpy(self):
        if numpy is None:
            self.skipTest("no NumPy")
        f = self.client(REAL).field.FieldFactor
        gap = numpy.array([[0.025, 0.075, 0.1]] * 2, dtype="f4")
        for g in gap, gap.T, gap[:, ::2], gap[:0]:
            got = f(0.025, g)
            self.assertEqual(got.shape, g.shape)
            numpy.testing.assert_allclose(got, g / (0.025 + g.astype(float)))
        self.assertEqual(f(numpy.array([[0.025], [0.1]]), numpy.array([1.0, 2.0, 3.0])).shape, (2, 3))
        self.assertEqual(float(f(numpy.float64(0.025), numpy.array(0.025))), 0.5)
        with self.assertRaises(PithballError) as e:
            f(0.025, numpy.array([[1, 2], [3, numpy.nan]]))
        self.assertEqual(e.exception.row, 3)
        with self.assertRaises(PithballError):
            f(numpy.ones(2), numpy.ones(3))

    def test_what_go_knows_is_shown(self):
        import inspect
        p = self.client(REAL)
        hazardous = quoted = named = ranges = 0
        for package in packages(p):
            for f in package:
                doc = f.__doc__
                self.assertEqual(set(inspect.signature(f).parameters) - {"bad"},
                                 {a["name"] + ("_" if keyword.iskeyword(a["name"]) else "") for a in f.entry["args"]})
                for a in f.entry["args"]:  # every default and every range, so that nobody has to guess one
                    name = a["name"] + ("_" if keyword.iskeyword(a["name"]) else "")
                    shown, choices = inspect.signature(f).parameters[name].default, a.get("choices")
                    self.assertEqual(shown, inspect.Parameter.empty if "default" not in a else choices[int(a["default"])] if choices else a["default"])
                    row = next(l for l in doc.splitlines() if l.startswith(f"  {name}: "))
                    if not choices:
                        self.assertIn(f"[{a['unit']}]", row)
                    if not choices and not (abs(a["low"]) >= 1e308 and abs(a["high"]) >= 1e308):
                        self.assertIn(f"{a['low']:g} … {a['high']:g}", row)
                        ranges += 1
                s = f.entry["source"]
                for word in (s["provenance"], s.get("cite"), s.get("note"), s.get("via")):
                    if word:
                        self.assertIn(word, doc)
                hazardous += "Caution: " in doc
                quoted += bool(s.get("note"))
                named += any(a.get("choices") for a in f.entry["args"])
                for n in f.entry.get("notices") or ():
                    self.assertIn(p._notices[n], doc)
        self.assertGreater(ranges, 1000)
        self.assertGreater(hazardous, 3)
        self.assertGreater(quoted, 3)
        self.assertGreater(named, 10)
        self.assertEqual(p.units.ConvertLength(1, from_="in", to="mm").value, 25.4)
        with self.assertRaisesRegex(PithballError, "one of"):
            p.units.ConvertLength(1, from_="cubit", to="mm")

    def test_the_whole_registry(self):
        """Every computation is on its page and answers a call, or refuses it naming a field; nothing prints as an address."""
        p = self.client(REAL)
        count = values = memory = choices = 0
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            for package in packages(p):
                self.assertTrue(dir(package))
                for f in package:
                    count += 1
                    name, doc = f.entry["name"], f.__doc__
                    self.assertIn("Source: " + f.entry["source"]["provenance"], doc, name)
                    memory += "memory" in json.dumps(f.entry["source"])
                    if "memory" in json.dumps(f.entry["source"]):
                        self.assertIn("memory", doc, name)
                    for a in f.entry["args"]:
                        self.assertIn(f"  {a['name']}" + ("_" if keyword.iskeyword(a["name"]) else "") + ":", doc, name)
                        for c in a.get("choices") or ():
                            choices += 1
                            self.assertIn(repr(c), doc, name)
                    if name.startswith(SLOW):
                        continue
                    try:
                        got = f(**middle(f))
                    except PithballError as e:
                        self.assertTrue(e.field, f"{name}: {e}")
                        self.assertTrue(e.want, f"{name}: {e}")
                        continue
                    values += 1
                    for shown in repr(got), str(got):
                        self.assertNotRegex(shown, r"(?i) at 0x[0-9a-f]+|0xc[0-9a-f]{9}", name)
                    for r in f.entry["results"]:
                        one = got if len(f.entry["results"]) == 1 else got[r["name"]]
                        if r.get("choices") or r.get("flags"):
                            self.assertIsInstance(one, str, name)
                        else:
                            self.assertEqual(one.unit, r["unit"], name)
        self.assertGreater(count, 400)
        self.assertGreater(values, count * 3 // 5)
        self.assertGreater(memory, 20)
        self.assertGreater(choices, 1000)

    def test_the_start_does_little(self):
        """A server that was built starts without Go, and its greeting and the client's work for it stay small. Counted in
        processor time and bytes, since the clock tells how busy the machine is."""
        if not REAL or os.name == "nt":
            self.skipTest("needs a built server and links")
        folder = pithball._source_folder()
        self.assertTrue(folder)
        with tempfile.TemporaryDirectory() as d:
            os.mkdir(os.path.join(d, "pithball"))
            os.symlink(REAL[0], os.path.join(d, "pithball", "serve-" + pithball._fingerprint(folder)))
            with open(os.path.join(d, "go"), "w", encoding="utf-8") as f:
                f.write(f"#!/bin/sh\ntouch {d}/went\nexit 1\n")
            os.chmod(os.path.join(d, "go"), 0o755)
            environment = {k: v for k, v in os.environ.items() if k != "PITHBALL_SERVE"}
            environment.update(XDG_CACHE_HOME=d, PATH=d + os.pathsep + os.environ["PATH"])
            with mock.patch.dict(os.environ, environment, clear=True):
                self.assertEqual(shutil.which("go"), os.path.join(d, "go"))
                least = 9
                for _ in range(5):
                    start = time.process_time()
                    p = Pithball(quiet=True)
                    least = min(least, time.process_time() - start)
                    self.assertEqual(float(p.field.FieldFactor(0.025, 0.025)), 0.5)
                    p.close()
                self.assertLess(least, 0.03)  # s
                self.assertFalse(os.path.exists(os.path.join(d, "went")), "Go was started")
                p = self.client(None)
                self.assertLess(len(json.dumps(p.call("hello", names=True))), 40_000)
                self.assertEqual([vars(k).keys() - {"_client", "_entries"} for k in packages(p)], [set()] * len(packages(p)))

    def test_a_hazardous_result_brings_its_notice(self):
        p = self.client(REAL)
        f = next(f for f in p.hazard if f.entry.get("notices"))
        given = {}
        for a in f.entry["args"]:
            name = a["name"]
            given[name] = a["choices"][1] if a.get("choices") else a.get("default", a["low"] if a["low"] > 0 else min(a["high"], 1e-6))
        with warnings.catch_warnings(record=True) as w:
            warnings.simplefilter("always")
            got = f(**given)
        self.assertIn(Hazard, [x.category for x in w])
        self.assertTrue(got.notices)

    def test_the_main_job(self):
        p = self.client(REAL)
        demo = os.path.join(os.path.dirname(os.path.abspath(pithball.__file__)), "..", "survey", "demo")
        with open(os.path.join(demo, "line.json"), encoding="utf-8") as f:
            line = f.read()
        v = p.diagnose(line, os.path.join(demo, "survey.csv"))
        self.assertIn("tension nip", v.lines[1])
        self.assertGreater(len(v.notices), 2)
        self.assertTrue(v.figures["charge"].startswith("<svg"))
        self.assertIn("<iframe", v._repr_html_())
        for speed in 3, "3 m/s":
            self.assertEqual(float(p.describe(line, speed=speed).speed), 3)
        self.assertEqual(float(p.describe(line, speed=0).speed), 0)  # it stands, and not: as the description has it
        for bad, field in (line.replace('"width"', '"breadth"'), "web.breadth"), ("{", "line"), (line.replace('"1.25 m"', '"9 km"'), "web.width"):
            with self.assertRaises(PithballError) as e:
                p.describe(bad)
            self.assertEqual(e.exception.field, field)
            self.assertTrue(e.exception.want)
        stations = p.describe(line).stations
        self.assertEqual(len(stations), 19)
        # The flags of a bar's law go all the way from the model to the object.
        bar = next(s for s in stations if s.name == "bar B2")
        self.assertIn("rests on no published value", bar.validity)
        self.assertIn("rests on no published value", next(s for s in v.stations if s.name == "bar B2").validity)
        self.assertEqual(next(s for s in stations if s.name == "idler 1").validity, "")

    def test_decide(self):
        p = self.client(REAL)
        demo = os.path.join(os.path.dirname(os.path.abspath(pithball.__file__)), "..", "survey", "demo")
        line, survey = os.path.join(demo, "line.json"), os.path.join(demo, "survey.csv")
        d = p.decide(line, survey)
        self.assertTrue(d.stop)  # zone and flammables are open
        self.assertTrue(all(c.step == "earth" for c in d.cures), [c.step for c in d.cures])
        site = {"safety": {"zone": "none", "flammables": "none", "decidedBy": "the test"}}
        d = p.decide(line, survey, site=site, speed="300 m/min")
        self.assertEqual(d.stop, "")
        self.assertLessEqual(d.after, d.before)
        self.assertTrue(any(c.chosen for c in d.cures))
        self.assertTrue(d.figures["outlook"].startswith("<svg"))
        self.assertTrue(d.notices)
        self.assertIn("Cures in their order", str(d))
        self.assertEqual(d.fastest.unit, "m/s")
        with self.assertRaises(PithballError) as e:
            p.decide(line, survey, speed="300 kg")
        with self.assertRaisesRegex(PithballError, "chance"):
            p.decide(line, survey, chance=7)
        p.decide(line)  # by the description alone

    def test_forecast(self):
        p = self.client(REAL)
        given = dict(charge="9 µC/m²", limit="3 µC/m²", dwell="1 h", temperature="22 °C", hall="22 °C",
                     leak=[("30 %RH", "20000 s"), ("50 %RH", "500 s")],
                     months=[f"{t} °C" for t in (-6, -5, -2, 2, 7, 11, 13, 13, 10, 6, 1, -4)], within="4 K")
        y = p.forecast(**given)
        self.assertEqual(y.over[1], p.forecast(**dict(given, leak=[(0.3, 20000), (0.5, 500.0)])).over[1])
        rh = float(y.relative_humidity[1])
        # By hand: 9·e^(−3600/τ) = 3 where τ = 3277 s; the law is linear in ln τ between its points.
        import math
        want = 0.30 + 0.20 * math.log(20000 / (3600 / math.log(3))) / math.log(20000 / 500)
        self.assertAlmostEqual(rh, want, 3)
        self.assertGreater(y.share_by_month[0], y.share_by_month[6])
        self.assertTrue(y.figures["months"].startswith("<svg"))
        self.assertIn("dew point", str(y))
        self.assertTrue(y.notices)
        for wrong in dict(months=["1 °C"]), dict(leak=[]), dict(charge="9 kg"), dict(dwell=float("nan")), dict(hall={"size": 1}):
            with self.assertRaises(PithballError, msg=repr(wrong)):
                p.forecast(**dict(given, **wrong))
        hourly = p.forecast(**dict(given, months=None, within=None, hours=["-5 °C"] * 4380 + [283.15] * 4380, begin="2025-01-01 00:00"))
        self.assertGreater(hourly.over[1], 0)

    def test_compare(self):
        p = self.client(REAL)
        days = dict(before={"readings": ["13800 V", "12190 V", 7720], "relative_humidity": "29.5 %RH"},
                    after={"readings": [6100, 7420, 6650], "relative_humidity": 0.37}, temperature="27 °C", scatter="25 %")
        wet = p.compare(**days, leak=[("35 %RH", "0.84 s"), ("45 %RH", "0.12 s")], dwell=0.3, dry_day="25 %RH")
        # By hand: ln τ falls by ln 7 over 10 %RH: 2.449 s at 29.5 and 0.569 s at 37; e^(0.3/2.449 − 0.3/0.569) = 0.667.
        self.assertAlmostEqual(wet.weather, 0.667, delta=0.02)
        self.assertTrue(wet.corrected)
        self.assertLess(wet.effect[0], wet.effect[1])
        self.assertGreater(wet.p, 0.05)
        self.assertGreater(wet.dry_day[1], 6700)  # drier than the day after, so more is left
        self.assertIn("the weather alone gives", str(wet))
        self.assertTrue(wet.notices)
        for d in dict(before=[9000, 8000], after=[5000, 4000]), dict(before={"relative_humidity": 0.3, "readings": [9000, 8000]}, after=[5000, 4000]):
            dry = p.compare(**d, temperature="22 °C", scatter=0.1, leak=[(0.3, 1)], decades_per_percent=0.06, dwell=1)
            self.assertFalse(dry.corrected)  # a temperature without a humidity is no air of 0 %RH
        plain = p.compare(**days)
        self.assertFalse(plain.corrected)
        self.assertNotEqual(plain.dry_day[1], plain.dry_day[1])  # nan: no law, no dry day
        counts = p.compare({"events": [25, 15], "shifts": [5, 5]}, {"events": [20], "shifts": [10]})
        self.assertAlmostEqual(counts.observed, 0.5, 12)  # 20 in 10 shifts after 40 in 10
        back = p.compare([-9000, -8000], [-900, -800], again=[-9000, -8000], scatter=0.1)
        self.assertAlmostEqual(back.observed, 0.1, delta=0.005)
        self.assertLess(back.p, 0.05)
        for wrong in dict(before=[]), dict(before=["9 kg"]), dict(after={"size": 1}), dict(dwell="1 s", leak=[]):
            with self.assertRaises(PithballError, msg=repr(wrong)):
                p.compare(**dict(days, **wrong))
        for wrong, field in (dict(scatter=9), "scatter"), (dict(before={"readings": [1, 2], "relative_humidity": 0.3}, temperature=None),
                                                            "before.temperature"), (dict(after=[0]), "after.readings"):
            with self.assertRaises(PithballError) as e:
                p.compare(**dict(days, **wrong))
            self.assertTrue(e.exception.field.startswith(field), f"{wrong}: {e.exception}")

    def test_progress_and_waiting_are_told(self):
        with mock.patch.object(pithball, "QUIET", 0.2), mock.patch.object(sys, "stderr", io.StringIO()) as said:
            p = self.client(FAKE)
            self.assertEqual(p.call("echo", n=1, wait=0.9), 1)
            time.sleep(0.01)
            self.assertIn("echo: ", said.getvalue())
            for n, (far, want) in enumerate([({"share": 0.37}, "echo: 37 %, "), ({"part": "trying changes"}, "echo: trying changes, "),
                                            ({"part": "trying changes", "share": 0.4}, "echo: trying changes 40 %, "),
                                            ({"done": 3, "rows": 9}, "echo: 3 of 9 rows, ")]):
                self.assertEqual(p.call("echo", n=n, far=far), n)
                self.assertIn(want, said.getvalue())
            p._width = 0
            p._line("a long line")
            p._line("short")
            self.assertTrue(said.getvalue().endswith("\rpithball: short      "), repr(said.getvalue()))  # nothing is left of the longer one

    def test_no_go_no_source(self):
        with tempfile.TemporaryDirectory() as d, mock.patch.dict(os.environ, {"PATH": d, "XDG_CACHE_HOME": d}), \
                mock.patch.object(pithball, "_source_folder", lambda: None):
            os.environ.pop("PITHBALL_SERVE", None)
            with self.assertRaisesRegex(FileNotFoundError, "Install Go"):
                Pithball()
        with tempfile.TemporaryDirectory() as d, mock.patch.dict(os.environ, {"PATH": d, "XDG_CACHE_HOME": d}):
            os.environ.pop("PITHBALL_SERVE", None)
            with self.assertRaisesRegex(FileNotFoundError, "Install Go"):
                Pithball()

    def test_the_server_ends_with_its_client(self):
        if not hasattr(os, "fork"):
            self.skipTest("POSIX")
        r, w = os.pipe()
        child = os.fork()
        if child == 0:
            try:
                p = Pithball(REAL)
                os.write(w, str(p._process.pid).encode())
            finally:
                os._exit(0)  # no close
        os.waitpid(child, 0)
        server = int(os.read(r, 20))
        os.close(r)
        os.close(w)
        for _ in range(100):
            try:
                os.kill(server, 0)
                with open(f"/proc/{server}/stat") as f:
                    if f.read().split()[2] == "Z":
                        return
            except OSError:
                return
            time.sleep(0.05)
        self.fail("the server outlives its client")


if __name__ == "__main__":
    unittest.main()
