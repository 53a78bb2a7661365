"""pithball in Python: copy this one file; it needs the Python standard library only, and Go once to build its server.

    from pithball import Pithball
    p = Pithball()
    p.field.FieldFactor(distance="25 mm", gap=[0.01, 0.1, 1])
    help(p.field.FieldFactor)

Functions, arguments, units, ranges, choices and sources come from the server, so that nothing is written twice. An argument is
a number in SI or text with its unit; a choice goes by its name; a list or a NumPy array makes a column and keeps its shape.
A fault raises PithballError with .field, .value, .want and .row. None and NaN are refused as arguments, naming the row; a
result that is not a number is nan.

The server is a program of its own, found in this order: the argument command, the environment variable PITHBALL_SERVE, a copy
of pithball's source (PITHBALL_SOURCE, or around this file or the working directory), whose server is built once with Go."""
import array
import atexit
import difflib
import hashlib
import inspect
import json
import keyword
import math
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time
import types
import warnings

__all__ = ["Pithball", "PithballError", "Hazard", "BadRows"]

CHUNK = 1 << 18  # rows of one request: an interrupt finds the client between two, a memory of bounded size
QUIET = 2.0  # s without an answer before the client says that it still waits


class Hazard(UserWarning):
    """A result concerns a hazard: the notice says whom to ask. No result ever says that a place is free of danger."""


class BadRows(UserWarning):
    """Rows of a column were refused and are nan."""


class PithballError(Exception):
    """A fault of the question. field names the argument, value what was given, want the allowed range, row the row of a column
    (from 0; in an array of several dimensions its index in C order)."""

    def __init__(self, error, shift=0):
        data = error.get("data") or {}
        self.field, self.value, self.want = data.get("field"), data.get("value"), data.get("want")
        self.row = data["row"] + shift if "row" in data else None
        text = error["message"]
        if shift and self.row is not None:
            text = text.replace(f"row {data['row']}:", f"row {self.row}:", 1)
        super().__init__(text)


class Number(float):
    """A number in SI that knows its unit, and the notices that belong to it."""

    def __new__(cls, value, unit="1", notices=()):
        self = super().__new__(cls, value)
        self.unit, self.notices = unit, notices
        return self

    def __getnewargs__(self):
        return float(self), self.unit, self.notices

    def __repr__(self):
        return f"{float(self):.6g}" + ("" if self.unit == "1" else " " + self.unit)  # float(x) has all digits

    __str__ = __repr__

    def __format__(self, spec):
        return format(float(self), spec) if spec else repr(self)


class Result(types.SimpleNamespace):
    """Several results by name; units is a dictionary of their units, notices are the hazards that they concern."""

    def __init__(self, values, units, notices=()):
        super().__init__(**values)
        self.__dict__["units"], self.__dict__["notices"] = units, notices

    def __getitem__(self, name):
        return getattr(self, name)

    def _names(self):
        return [k for k in self.__dict__ if k not in ("units", "notices")]

    def __iter__(self):
        return (self.__dict__[k] for k in self._names())  # so that a, b = f(…) works

    def __len__(self):
        return len(self._names())

    def __repr__(self):
        rows = []
        for k in self._names():
            v = self.__dict__[k]
            text = repr(v) if isinstance(v, (Number, str)) else f"{v!r} [{self.units.get(k, '')}]"
            rows.append(f"  {k}: {text}")
        return "\n".join(["Result"] + rows + [f"  ! {n}" for n in self.notices])


class Verdict:
    """What a survey says. str() of it is the whole text; in a notebook it shows the page. lines: the verdict; notices: hazards;
    report: charges, readings, changes as data, numbers in SI with the unit in the key; figures: SVG texts by name; html: the
    page; save(path) writes it."""

    def __init__(self, d):
        self.lines, self.notices, self.report = d["lines"], [_notice(n) for n in d["notices"]], d["report"]
        self.figures = {k: Figure(v, self.notices) for k, v in d["figures"].items()}
        self.html, self._text = d["html"], d["text"]
        self.stations = [types.SimpleNamespace(**s) for s in self.report["stations"]]

    def __str__(self):
        return self._text

    def __repr__(self):
        return "\n".join([f"{i}. {s}" for i, s in enumerate(self.lines, 1)] + [f"! {n}" for n in self.notices])

    def _repr_html_(self):
        inside = self.html.replace("&", "&amp;").replace('"', "&quot;")
        return f'<iframe srcdoc="{inside}" style="width:100%;height:36em;border:1px solid #bbb" title="Static survey"></iframe>'

    def save(self, path):
        with open(path, "w", encoding="utf-8") as f:
            f.write(self.html)


class Decision(Result):
    """What to do about a line. str() of it is the whole text. stop: why nothing but earthing is planned; before, after: chances
    of being over the limit anywhere; cures, refused: step, what, before, after, chosen, reason, raises; places: charge now and
    with what is chosen; fastest; measure_next; figures: SVG; notices: hazards."""

    def __init__(self, d):
        notices = [_notice(n) for n in d["notices"]]
        rows = {k: [types.SimpleNamespace(**x) for x in d[k]] for k in ("cures", "refused", "places")}
        super().__init__(dict(stop=d["stop"], before=_one({"unit": "1"}, d["before"], ()), after=_one({"unit": "1"}, d["after"], ()),
                              reached=d["reached"], fastest=_one({"unit": "m/s"}, d["fastest_m_per_s"], ()), **rows,
                              measure_next=d["measure_next"], text=d["text"],
                              figures={k: Figure(v, notices) for k, v in d["figures"].items()}), {}, notices)

    def __str__(self):
        return self.text + "".join(f"! {n}\n" for n in self.notices)

    __repr__ = __str__


class Forecast(Result):
    """When in a year a place is over its limit. str() of it is the text. relative_humidity, dew_point (at the place) and
    outdoor_dew_point below which it is: three numbers each, 5, 50 and 95 %, as over: the time of a year; share_by_month;
    driest_month; calendar: spells as month-day; figures: SVG; notices."""

    def __init__(self, d):
        notices = [_notice(n) for n in d["notices"]]
        three = {"relative_humidity": ("relative_humidity_5_50_95", "1"), "dew_point": ("dew_point_5_50_95_K", "K"),
                 "outdoor_dew_point": ("outdoor_dew_point_5_50_95_K", "K"), "over": ("over_5_50_95_s", "s")}
        values = {k: [_one({"unit": unit}, x, ()) for x in d[key]] for k, (key, unit) in three.items()}
        plain = ("never", "unreached", "driest_month", "missing_hours", "share_by_month", "calendar", "validity", "text")
        super().__init__(dict(values, **{k: d[k] for k in plain}, figures={k: Figure(v, notices) for k, v in d["figures"].items()}),
                         {}, notices)

    def __str__(self):
        return self.text + "".join(f"! {n}\n" for n in self.notices)

    __repr__ = __str__


class Comparison(Result):
    """Whether a change worked, or the weather did. str() of it is the text. effect: what is left of the trouble on equal days,
    after over before, 2.5, 50 and 97.5 %; p: chance of an effect at least as far from none by accident, plain_p without the
    weather; weather, observed, corrected, more (readings a side that would tell), turned, dry_day, validity; notices."""

    def __init__(self, d):
        notices = [_notice(n) for n in d["notices"]]
        three = {"effect": ("effect_low_middle_high", "1"), "dry_day": ("dry_day_low_middle_high_V", "V")}
        values = {k: [_one({"unit": unit}, x, ()) for x in d[key]] for k, (key, unit) in three.items()}
        plain = ("weather", "observed", "p", "plain_p", "corrected", "more", "turned", "validity", "text")
        super().__init__(dict(values, **{k: d[k] for k in plain}), {}, notices)

    def __str__(self):
        return self.text + "".join(f"! {n}\n" for n in self.notices)

    __repr__ = __str__


class Figure(str):
    """An SVG text; a notebook draws it with its caution below."""

    def __new__(cls, svg, notices=()):
        self = super().__new__(cls, svg)
        self.notices = notices
        return self

    def _repr_html_(self):
        caution = "" if not self.notices else "<p><small>Not an approval of a place or a machine; see the notices.</small></p>"
        return f'<div style="max-width:46em">{str(self)}</div>{caution}'


def _notice(n):
    figure = f" ({n['figure']})" if n.get("figure") else ""
    return f"{n['condition']}{figure}. Consult {n['consult']}. To decide by a competent, where required licensed, person: {n['decide']}."


class Package:
    """The computations of one package. Each is fetched from the server when it is first asked for."""

    def __init__(self, client):
        self._client, self._entries = client, {}

    def __getattr__(self, name):  # called for what is not there yet
        entry = self.__dict__.get("_entries", {}).get(name)
        if entry is None:
            near = difflib.get_close_matches(name, self.__dict__.get("_entries", {}), 3)
            raise AttributeError(f"no computation {name!r}; " + (f"near it: {', '.join(near)}; " if near else "") + "dir() of the package lists them")
        if isinstance(entry, str):
            entry = self._client.call("entry", name=entry)
        f = self.__dict__[name] = self._client._function(entry)
        return f

    def __dir__(self):
        return sorted(self._entries)

    def __iter__(self):
        return (getattr(self, name) for name in dir(self))

    def __repr__(self):
        return "Package: " + ", ".join(dir(self))


def source(s):
    """How a law is known: the provenance, the work, and where a quoted one was read."""
    return s["provenance"] + "".join(f", {word}{s[k]}" for word, k in (("", "cite"), ("read in ", "via"), ("", "note")) if s.get(k))


def _say(text):
    print("pithball: " + text, file=sys.stderr, flush=True)


# Finding and building the server.

HELP = """no server was found. Either
  - set PITHBALL_SERVE to a built server, or
  - have a copy of pithball's source: put this file inside it, or set PITHBALL_SOURCE to its folder, or work in it."""
GO = """Go is needed once, to build the server, and "go" was not found on PATH. Install Go 1.26 or later (https://go.dev/doc/install;
Debian "golang", conda-forge "go"), or set PITHBALL_SERVE to a server that was built elsewhere:
  go build -o pithball-serve ./examples/notebook/serve"""


def _source_folder():
    """The folder of pithball's source, None if there is none."""
    given = os.environ.get("PITHBALL_SOURCE")
    for start in [given] if given else [os.path.dirname(os.path.abspath(__file__)), os.getcwd()]:
        folder = os.path.abspath(start)
        while True:
            try:
                with open(os.path.join(folder, "go.mod"), encoding="utf-8") as f:
                    if f.readline().split()[:2] == ["module", "example.org/pithball"]:
                        return folder
            except OSError:
                pass
            up = os.path.dirname(folder)
            if up == folder:
                break
            folder = up
    if given:
        raise FileNotFoundError(f"PITHBALL_SOURCE={given}: want the folder of pithball's source, with its go.mod")
    return None


def _fingerprint(folder):
    """Changes when a file of the source does: names, sizes and times, which is quick."""
    h = hashlib.sha256(folder.encode())
    for root, dirs, files in os.walk(folder):
        dirs[:] = sorted(d for d in dirs if not d.startswith(".") and d not in ("testdata", "notebook_out"))
        for name in sorted(files):
            if name.endswith((".go", ".txt", ".html", ".json", ".csv", ".mod", ".sum")) and not name.endswith("_test.go"):
                s = os.stat(os.path.join(root, name))
                h.update(f"{root}/{name} {s.st_size} {s.st_mtime_ns}\n".encode())
    return h.hexdigest()[:16]


def _cache():
    base = os.environ.get("XDG_CACHE_HOME") or (os.environ.get("LOCALAPPDATA") if os.name == "nt" else None)
    return os.path.join(base or os.path.join(os.path.expanduser("~"), ".cache"), "pithball")


def find_server():
    """The command of the server; builds it if there is none yet for this source."""
    if os.environ.get("PITHBALL_SERVE"):
        path = os.path.abspath(os.environ["PITHBALL_SERVE"])
        if not os.access(path, os.X_OK):
            raise FileNotFoundError(f"PITHBALL_SERVE={path}: want the path of a built server")
        return [path, "-attached"]
    folder = _source_folder()
    if folder is None:
        raise FileNotFoundError(HELP if shutil.which("go") else HELP + "\n" + GO)
    out = os.path.join(_cache(), f"serve-{_fingerprint(folder)}" + (".exe" if os.name == "nt" else ""))
    if os.access(out, os.X_OK):
        return [out, "-attached"]
    if shutil.which("go") is None:
        raise FileNotFoundError(GO)
    os.makedirs(os.path.dirname(out), exist_ok=True)
    _say("building its server with Go; the first time this takes a minute or two …")
    start, part = time.monotonic(), f"{out}.{os.getpid()}"
    done = subprocess.run(["go", "build", "-trimpath", "-buildvcs=false", "-o", part, "./examples/notebook/serve"], cwd=folder,
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, encoding="utf-8", errors="replace")
    if done.returncode != 0:
        raise RuntimeError("Go could not build the server:\n" + done.stdout[-2000:])
    os.replace(part, out)  # two notebooks may build at once: each puts a whole file there
    for old in os.listdir(_cache()):
        path = os.path.join(_cache(), old)
        if old.startswith("serve-") and path != out and time.time() - os.stat(path).st_mtime > 30 * 86400:
            os.remove(path)
    _say(f"built in {time.monotonic() - start:.0f} s")
    return [out, "-attached"]


class Pithball:
    """One server and one question at a time: threads wait for each other, an answer is taken only by the question whose id it
    carries, a forked process gets a server of its own. After an interrupted call the server is stopped, because its answer
    would come later; the next call starts a new one. quiet=True says nothing while it waits."""

    def __init__(self, command=None, quiet=False):
        self._command, self._quiet = command, quiet
        self._pid, self._lock, self._id = os.getpid(), threading.RLock(), 0
        self._process = self._errors = None
        self._busy, self._since, self._told, self._what, self._width = False, None, 0.0, "", 0
        self._watcher = None
        hello = self.call("hello", names=True)
        self.version, self.constants = hello["version"], hello["constants"]
        self._notices = {k: _notice(n) for k, n in hello.get("notices", {}).items()}
        for entry in hello["computations"]:  # names; the whole entries where a server knows no better
            package, name = (entry if isinstance(entry, str) else entry["name"]).split(".", 1)
            if package not in self.__dict__:
                setattr(self, package, Package(self))
            self.__dict__[package]._entries[name.replace(".", "_")] = entry
        atexit.register(self.close)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.close()

    def call(self, method, **params):
        """One question of the server's own protocol."""
        return self._call(method, params)[0]

    def _call(self, method, params, frames=None, what=None):
        if os.getpid() != self._pid:  # forked: pipe, lock and threads belong to the parent
            self._pid, self._lock, self._process, self._busy, self._watcher = os.getpid(), threading.RLock(), None, False, None
        with self._lock:
            if self._busy:
                raise RuntimeError("a call inside a call (from a signal handler?)")
            self._busy = True
            self._what, self._told, self._width = what or method, 0.0, 0
            self._since = time.monotonic()
            try:
                return self._ask(method, params, frames)
            except (PithballError, FileNotFoundError):
                raise  # a fault of the question or of the place: a server that runs goes on
            except BaseException as e:  # KeyboardInterrupt too: what comes down the pipe later answers nothing that is asked
                reason = self._stop()
                if isinstance(e, (EOFError, OSError, ValueError)):
                    raise RuntimeError(f"the server ended or sent no answer ({e}){reason}; the next call starts a new one") from e
                _say("the call was interrupted and its server stopped; the next call starts a new one")
                raise
            finally:
                self._busy, self._since = False, None
                if self._told:
                    print(file=sys.stderr, flush=True)

    def _ask(self, method, params, frames):
        if self._process is None:
            self._start()
        self._id += 1
        q = {"jsonrpc": "2.0", "id": self._id, "method": method, "params": params}
        if frames is not None:
            q["frames"] = [len(f) // 8 for f in frames]
        try:
            line = json.dumps(q, allow_nan=False)
        except ValueError:
            raise PithballError({"message": "NaN and infinity are no arguments"}) from None
        to, back = self._process.stdin, self._process.stdout
        to.write(line.encode() + b"\n")
        for f in frames or ():
            to.write(f)
        to.flush()
        while True:
            line = back.readline()
            if not line:
                raise EOFError("its output ended")
            a = json.loads(line)
            if a.get("method") == "progress":
                self._progress(a["params"])
                continue
            columns = [_read(back, 8 * n) for n in a.get("frames") or ()]
            id = a.get("id")
            if isinstance(id, int) and 0 < id < self._id:
                continue  # of an earlier question that nobody waits for
            if id != self._id:
                raise ValueError(f"an answer to question {id} where {self._id} was asked")
            if "error" in a:
                raise PithballError(a["error"])
            return a.get("result"), columns

    def _start(self):
        if self._command is None:
            self._command = find_server()
        # A group of its own: an interrupt of the notebook does not reach it.
        group = {"creationflags": subprocess.CREATE_NEW_PROCESS_GROUP} if os.name == "nt" else {"start_new_session": True}
        self._errors = tempfile.TemporaryFile()
        try:
            self._process = subprocess.Popen(self._command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=self._errors, **group)
        except BaseException:
            self._errors.close()
            raise
        if self._watcher is None and not self._quiet:
            self._watcher = threading.Thread(target=self._watch, daemon=True)
            self._watcher.start()

    def _watch(self):
        """Says that a long call still runs."""
        while True:
            time.sleep(QUIET / 2)
            since = self._since
            if since is not None and time.monotonic() - since > QUIET and time.monotonic() - self._told > QUIET:
                self._told = time.monotonic()
                self._line(f"{self._what}: {self._told - since:.0f} s …")

    def _progress(self, p):
        far = f"{p['done']} of {p['rows']} rows" if p.get("rows") else p.get("part", "")
        if "share" in p:
            far = f"{far} {100 * p['share']:.0f} %".strip()
        if not self._quiet and far:
            self._told = time.monotonic()
            self._line(f"{self._what}: {far}, {self._told - self._since:.0f} s …")

    def _line(self, text):
        """Writes over the line before, of which nothing may be left."""
        print("\rpithball: " + text.ljust(self._width), end="", file=sys.stderr, flush=True)
        self._width = len(text)

    def _stop(self):
        """Stops the server and returns the last lines that it wrote as errors."""
        process, self._process = self._process, None
        if process is None:
            return ""
        try:
            if os.name == "nt":
                process.kill()
            else:
                os.killpg(process.pid, signal.SIGKILL)
        except OSError:
            pass  # it has ended
        code = process.wait()
        for pipe in (process.stdin, process.stdout):
            try:
                pipe.close()
            except OSError:
                pass  # what was not written to a server that has ended
        with self._errors as errors:
            errors.seek(0)
            said = errors.read().decode("utf-8", "replace")[-500:].strip()
            return f", exit {code}" + (": " + said if said else "")

    def close(self):
        """Ends the server; a later call starts it again."""
        with self._lock:
            if self._process is not None and os.getpid() == self._pid:
                process, self._process = self._process, None
                try:
                    process.stdin.close()
                except OSError:
                    pass
                process.wait()
                process.stdout.close()
                self._errors.close()

    # The main job.

    def describe(self, line, speed=None):
        """A line description (text, or a path of one) as it stands: what every station carries at a speed."""
        p = {"line": _text(line)}
        if speed is not None:
            p["speed"] = _quantity(speed, "m/s")
        d = self.call("describe", **p)
        notices = [_notice(n) for n in d["notices"]]
        return types.SimpleNamespace(name=d["name"], speed=Number(d["speed_m_per_s"], "m/s"), limit=Number(d["limit_C_per_m2"], "C/m²"),
                                     stations=[types.SimpleNamespace(**s) for s in d["stations"]], notices=notices)

    def diagnose(self, line, survey, units="metric"):
        """The main job: a line description and a survey, each a text or the path of a file."""
        return Verdict(self._call("survey", {"line": _text(line), "survey": _text(survey), "units": units}, what="diagnose")[0])

    def decide(self, line, survey=None, speed=None, chance=None, faces=False, site=None, units="metric"):
        """What to do: the cures of a line as its survey left it known (without a survey by its description alone). speed is
        wanted, chance the greatest of being over the limit; faces=True judges single faces too. site, a dictionary or the path
        of a JSON file, has what the people responsible answer ({"safety": {"zone": …, "flammables": …, "decidedBy": …},
        "prices": …}): while zone and flammables are open nothing but earthing is planned."""
        p = {"line": _text(line), "units": units, "faces": faces}
        if survey is not None:
            p["survey"] = _text(survey)
        if speed is not None:
            p["speed"] = _quantity(speed, "m/s")
        if chance is not None:
            p["chance"] = chance
        if site is not None:
            p["site"] = site if isinstance(site, dict) else json.loads(_text(site))
        return Decision(self._call("decide", p, what="decide")[0])

    def forecast(self, charge, limit, dwell, temperature, leak, hall, months=None, hours=None, begin=None, within=None, spread=0,
                 decades_per_percent=None, decades=None, station="the place", units="metric"):
        """When in a year a place is over its limit. charge is made there, with a relative spread; it leaks for the time dwell at
        the temperature of the goods; leak is a list of (relative humidity, decay time), two or more, or one with
        decades_per_percent; hall is the temperature indoors, or a dictionary with temperature, volume, fresh_air and gain.
        Weather: months, twelve mean outdoor dew points and their scatter within a month, or hours, one dew point an hour from
        begin ("2025-01-01 00:00") on. Numbers are in SI (K, s, C/m²), text has its unit."""
        if not isinstance(hall, dict):
            hall = {"temperature": hall}
        kinds = {"temperature": "K", "volume": "m³", "fresh_air": "m³/s", "gain": "kg/s"}
        for k in hall:
            if k not in kinds:
                raise PithballError({"message": f"forecast.hall: {k}: want {', '.join(kinds)}"})
        p = {"charge": _quantity(charge, "C/m²"), "limit": _quantity(limit, "C/m²"), "dwell": _quantity(dwell, "s"),
             "temperature": _quantity(temperature, "K"), "spread": _quantity(spread, ""), "station": station, "units": units,
             "hall": {k: _quantity(v, kinds[k]) for k, v in hall.items()},
             "leak": {"points": [{"rh": _humidity(rh), "time": _quantity(t, "s")} for rh, t in leak]}}
        for k, v in ("decadesPerPercent", decades_per_percent), ("decades", decades):
            if v is not None:
                p["leak"][k] = v
        for k, v in ("months", months), ("hours", hours):
            if v is not None:
                p[k] = [_quantity(x, "K") for x in v]
        if begin is not None:
            p["begin"] = begin
        if within is not None:
            p["within"] = _quantity(within, "K")
        return Forecast(self._call("forecast", p, what="forecast")[0])

    def compare(self, before, after, again=None, temperature=None, scatter=None, offset=None, gain=None, leak=None, dwell=None,
                dry_day=None, decades_per_percent=None, decades=None, weather=None, weather_spread=None):
        """Did a change work, or was it a wet day? before and after are lists of displays, or dictionaries: readings (and spots,
        temperature, relative_humidity, rh_error), or events (and shifts), or weights. leak, a list of (relative humidity, decay
        time) as in forecast, and dwell take the weather out of readings; weather, a ratio, and the spread of its logarithm out
        of events. again, the third of off, on and off on one day, needs no law of the weather. scatter is from spot to spot,
        relative; offset that of the zero, gain between two meters; dry_day a humidity for which to tell the display. Numbers are
        in SI (V, kg, K), text has its unit."""
        kinds = {"readings": "V", "temperature": "K", "weights": "kg"}

        def side(x, name):
            x = dict(x) if isinstance(x, dict) else {"readings": x}
            if temperature is not None and "relative_humidity" in x:
                x.setdefault("temperature", temperature)  # alone it is no air
            out = {}
            for k, v in x.items():
                if k in ("relative_humidity", "rh_error"):
                    out[{"relative_humidity": "relativeHumidity", "rh_error": "rhError"}[k]] = _humidity(v)
                elif k in kinds:
                    out[k] = [_quantity(y, kinds[k]) for y in v] if k in ("readings", "weights") else _quantity(v, kinds[k])
                elif k in ("spots", "events", "shifts"):
                    out[k] = list(v)
                else:
                    words = ", ".join([*kinds, "relative_humidity", "rh_error", "spots", "events", "shifts"])
                    raise PithballError({"message": f"compare.{name}: {k}: want {words}"})
            return out

        p = {"schema": "pithball days 1", "name": "notebook", "before": side(before, "before"), "after": side(after, "after")}
        if again is not None:
            p["again"] = side(again, "again")
        for k, v, unit in (("spots", scatter, ""), ("offset", offset, "V"), ("gain", gain, ""), ("dwell", dwell, "s")):
            if v is not None:
                p[k] = _quantity(v, unit)
        if dry_day is not None:
            p["dryDay"] = _humidity(dry_day)
        for k, v in ("weather", weather), ("weatherSpread", weather_spread):
            if v is not None:
                p[k] = v
        if leak is not None:
            p["leak"] = {"points": [{"rh": _humidity(rh), "time": _quantity(t, "s")} for rh, t in leak]}
            for k, v in ("decadesPerPercent", decades_per_percent), ("decades", decades):
                if v is not None:
                    p["leak"][k] = v
        return Comparison(self._call("compare", p, what="compare")[0])

    # Computations.

    def _function(self, entry):
        parameters, real = [], {}
        for a in sorted(entry["args"], key=lambda a: "default" in a):
            name = a["name"] + "_" if keyword.iskeyword(a["name"]) else a["name"]
            real[name] = a
            default = inspect.Parameter.empty
            if "default" in a:
                default = a["choices"][int(a["default"])] if a.get("choices") else a["default"]
            parameters.append(inspect.Parameter(name, inspect.Parameter.POSITIONAL_OR_KEYWORD, default=default))
        parameters.append(inspect.Parameter("bad", inspect.Parameter.KEYWORD_ONLY, default="raise"))
        signature = inspect.Signature(parameters)
        plain = {name: a["name"] for name, a in real.items()}
        notices = tuple(self._notices[c] for c in entry.get("notices") or () if c in self._notices)
        units = {r["name"]: r["unit"] for r in entry["results"]}

        def f(*args, **kwargs):
            try:
                given = signature.bind(*args, **kwargs).arguments
            except TypeError as e:  # it tells one fault only, and not what is wanted
                odd = [k for k in kwargs if k not in signature.parameters]
                raise TypeError(f"{entry['name']}{signature}: " + (f"no argument {', '.join(odd)}" if odd else str(e))) from None
            bad = given.pop("bad", "raise")
            shape, numpy, scalars, columns = _split(entry["name"], given, real, bad)
            if notices:
                for n in notices:
                    warnings.warn(n, Hazard, stacklevel=2)
            if shape is None:
                got = self.call("compute", name=entry["name"], args={plain[k]: v for k, v in scalars.items()}, bad=bad)["results"]
                values = {r["name"]: _one(r, got[r["name"]], notices) for r in entry["results"]}
            else:
                values = self._columns(entry, {plain[k]: v for k, v in scalars.items()},
                                       {plain[k]: v for k, v in columns.items()}, shape, numpy, bad)
            return next(iter(values.values())) if len(values) == 1 else Result(values, units, notices)

        f.__name__ = f.__qualname__ = entry["name"].split(".", 1)[1].replace(".", "_")
        f.__signature__ = signature
        f.__doc__ = _doc(entry, real, notices)
        f.entry = entry
        return f

    def _columns(self, entry, scalars, columns, shape, numpy, bad):
        rows = math.prod(shape)
        out = [array.array("d", bytes(8 * rows)) for _ in entry["results"]] if numpy is None else [
            numpy.empty(rows) for _ in entry["results"]]
        spoilt, first = 0, None
        args = dict(scalars, **{k: {"frame": i} for i, k in enumerate(columns)})
        for at in range(0, rows, CHUNK) if rows else ():
            n = min(CHUNK, rows - at)
            frames = [c[8 * at:8 * (at + n)] for c in columns.values()]
            try:
                result, back = self._call("compute", {"name": entry["name"], "args": args, "bad": bad}, frames, entry["name"])
            except PithballError as e:
                if e.row is None or not at:
                    raise
                data = {"field": e.field, "value": e.value, "want": e.want, "row": e.row}
                raise PithballError({"message": str(e), "data": data}, at) from None
            if "bad" in result:
                spoilt += result["bad"]["rows"]
                if first is None:
                    first = PithballError(result["bad"]["first"], at)
            for dst, b in zip(out, back):
                memoryview(dst).cast("B")[8 * at:8 * (at + n)] = b
        if spoilt:
            warnings.warn(f"{entry['name']}: {spoilt} of {rows} rows were refused and are nan; the first: {first}", BadRows, stacklevel=3)
        values = {}
        for r, c in zip(entry["results"], out):
            if r.get("choices") or r.get("flags"):
                words = {v: _word(r, v) for v in set(c.tolist())}
                flat = [words[v] for v in c.tolist()]
                values[r["name"]] = _nest(flat, shape) if numpy is None else numpy.array(flat, dtype=object).reshape(shape)
            else:
                values[r["name"]] = _nest(c.tolist(), shape) if numpy is None else c.reshape(shape)
        return values


def _read(pipe, n):
    b = bytearray(n)
    view, at = memoryview(b), 0
    while at < n:
        k = pipe.readinto(view[at:])
        if not k:
            raise EOFError("its output ended within an answer")
        at += k
    return b


def _text(x):
    """x itself, or the content of the file whose path it is."""
    if isinstance(x, os.PathLike) or isinstance(x, str) and "\n" not in x and len(x) < 1024 and not x.lstrip().startswith("{"):
        with open(x, encoding="utf-8-sig") as f:
            return f.read()
    return x


def _quantity(x, unit):
    """Text as it is; a number in SI as text with its unit."""
    if isinstance(x, str):
        return x
    if isinstance(x, bool) or not isinstance(x, (int, float)) and not hasattr(x, "__float__") or not math.isfinite(x):
        raise PithballError({"message": f"{x!r}: want a number in {unit or '1'}, or text with its unit"})
    return f"{float(x)!r} {unit}".strip()


def _humidity(x):
    """Text as it is; a relative humidity as a number from 0 to 1 as text with its unit."""
    return x if isinstance(x, str) else _quantity(x if isinstance(x, bool) else 100 * x, "%RH")


def _word(r, v):
    if v != v:
        return "nan"
    if r.get("choices"):
        return r["choices"][int(v)] if 0 <= v < len(r["choices"]) else str(int(v))
    names = [name for bit, name in enumerate(r["flags"]) if name and int(v) >> bit & 1]
    return ", ".join(names) or "inside the published range"


def _one(r, v, notices):
    if v is not None and (r.get("choices") or r.get("flags")):
        return _word(r, v)
    return Number(math.nan if v is None else v, r["unit"], notices)


def _wrong(name, a, value, want, row=None):
    at = "" if row is None else f"row {row}: "
    data = {"field": f"{name}.{a['name']}", "value": str(value), "want": want}
    if row is not None:
        data["row"] = row
    return PithballError({"message": f"{at}{name}.{a['name']}: {value}: want {want}", "data": data})


def _split(name, given, real, mode):
    """Arguments as scalars and as columns of little-endian doubles of one shape; shape is None where there is no column."""
    numpy, arrays = None, {}
    scalars, columns, shape, owner = {}, {}, None, None
    for k, v in given.items():
        a = real[k]
        if hasattr(v, "to_numpy"):  # a column of a data frame
            v = v.to_numpy()
        if hasattr(v, "__array__") and getattr(v, "shape", ()) != ():
            import numpy
            arrays[k] = v
        elif hasattr(v, "__array__") and not isinstance(v, (int, float)):
            scalars[k] = v.item()
        elif isinstance(v, (list, tuple, range, array.array)):
            arrays[k] = v
        else:
            scalars[k] = v
    for k, v in scalars.items():
        a = real[k]
        want = f"one of {', '.join(a['choices'])}" if a.get("choices") else f"a number in {a['unit']}, or text with its unit"
        if isinstance(v, bool) and a.get("choices") == ["no", "yes"]:
            scalars[k] = int(v)
        elif v is None or isinstance(v, bool) or not isinstance(v, (int, float, str)) or isinstance(v, float) and not math.isfinite(v):
            raise _wrong(name, a, v, want)
    if numpy is not None:
        for k, v in arrays.items():
            if getattr(v, "dtype", None) is not None and v.dtype.kind in "fiub" or real[k].get("choices") is None:
                try:
                    arrays[k] = numpy.asarray(v, dtype="<f8")
                except (TypeError, ValueError):
                    arrays[k] = None
            else:
                arrays[k] = None
            if arrays[k] is None:  # text, None, or rows of different length: told one by one
                s, flat = _flat(name, real[k], v.tolist() if hasattr(v, "tolist") else v)
                arrays[k] = numpy.array(flat, dtype="<f8").reshape(s)
        try:
            whole = numpy.broadcast_arrays(*arrays.values())
        except ValueError:
            raise PithballError({"message": f"{name}: shapes {[v.shape for v in arrays.values()]}: want shapes that broadcast"}) from None
        for k, v in zip(arrays, whole):
            v = numpy.ascontiguousarray(v, dtype="<f8")
            shape = v.shape
            bad = ~numpy.isfinite(v.reshape(-1))
            if bad.any():
                _refuse(name, real[k], v.reshape(-1), int(bad.argmax()), mode)
            columns[k] = memoryview(v.reshape(-1)).cast("B") if v.size else memoryview(b"")
        return shape, numpy, scalars, columns
    for k, v in arrays.items():
        s, flat = _flat(name, real[k], v)
        if shape is not None and s != shape:
            raise _wrong(name, real[k], f"shape {s}", f"shape {shape}, as {owner} has")
        shape, owner = s, real[k]["name"]
        total = math.fsum(x for x in (min(flat, default=0.0), max(flat, default=0.0)) if x == x)
        if not math.isfinite(total) or any(x != x for x in flat):
            _refuse(name, real[k], flat, next(i for i, x in enumerate(flat) if not math.isfinite(x)), mode)
        if sys.byteorder == "big":
            flat.byteswap()
        columns[k] = memoryview(flat).cast("B")
    return shape, None, scalars, columns


def _refuse(name, a, values, row, mode):
    """NaN and infinity in a column: refused, unless the caller wants bad rows as nan."""
    if mode != "nan":
        want = f"one of {', '.join(a['choices'])}" if a.get("choices") else f"a number in {a['unit']}"
        raise _wrong(name, a, values[row], want, row)


def _flat(name, a, v):
    """The shape and the numbers of a nested list."""
    if isinstance(v, array.array) and v.typecode == "d":
        return (len(v),), v
    try:
        return (len(v),), array.array("d", v)
    except (TypeError, ValueError, OverflowError):
        pass
    shape, level = [], v
    while isinstance(level, (list, tuple)) and len(level):
        shape.append(len(level))
        level = level[0]
    out = array.array("d")
    choices = a.get("choices")

    def walk(x, depth):
        if depth < len(shape):
            if not isinstance(x, (list, tuple)) or len(x) != shape[depth]:
                raise _wrong(name, a, "rows of different length", f"{shape[depth]} elements in each", len(out))
            for y in x:
                walk(y, depth + 1)
        elif choices and x in choices:
            out.append(choices.index(x))
        elif isinstance(x, bool) or not isinstance(x, (int, float)):
            raise _wrong(name, a, x, f"one of {', '.join(choices)}" if choices else f"a number in {a['unit']}", len(out))
        else:
            out.append(x)

    walk(v, 0)
    return tuple(shape), out


def _nest(flat, shape):
    for n in reversed(shape[1:]):
        flat = [flat[i:i + n] for i in range(0, len(flat), n)] if n else []
    return flat


def _doc(entry, real, notices):
    lines = [entry["doc"], "", "Arguments:"]
    for name, a in real.items():
        if a.get("choices"):
            kind = "one of " + ", ".join(repr(c) for c in a["choices"])
        elif abs(a["low"]) >= 1e308 and abs(a["high"]) >= 1e308:
            kind = f"[{a['unit']}]"
        else:
            kind = f"[{a['unit']}] {a['low']:g} … {a['high']:g}"
        lines.append(f"  {name}: {kind}{'  ' + a['doc'] if a.get('doc') else ''}")
    lines.append("Results:")
    for r in entry["results"]:
        kind = "by name" if r.get("choices") else "flags in words" if r.get("flags") else f"[{r['unit']}]"
        lines.append(f"  {r['name']}: {kind}{'  ' + r['doc'] if r.get('doc') else ''}")
    lines.append("Source: " + source(entry["source"]))
    lines += ["Caution: " + n for n in notices]
    lines.append('bad="nan" makes rows that are refused nan, with a warning, instead of raising.')
    return "\n".join(lines)
