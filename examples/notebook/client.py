"""Client of pithball's notebook server: standard library only.

    from client import Pithball
    p = Pithball()                                   # builds and starts the server: needs Go
    p.field.FieldFactor(distance=0.025, gap=[0.01, 0.1, 1])
    help(p.field.FieldFactor)

All numbers are SI. Functions, arguments, units, ranges and texts come from the server, so that nothing is written twice.
A number that is not finite comes back as None. Faults raise PithballError with .field, .value and .want."""
import json
import os
import signal
import subprocess
import sys
import tempfile
import threading
import types

HERE = os.path.dirname(os.path.abspath(__file__))


def source(s):
    """How a law is known: the provenance, the work, and where a quoted one was read."""
    return s["provenance"] + "".join(f", {word}{s[k]}" for word, k in (("", "cite"), ("read in ", "via"), ("", "note")) if s.get(k))


class PithballError(Exception):
    def __init__(self, error):
        super().__init__(error["message"])
        data = error.get("data") or {}
        self.field, self.value, self.want = data.get("field"), data.get("value"), data.get("want")


class Pithball:
    """One server and one question at a time: threads wait for each other, an answer is taken only by the question whose id it
    carries, a forked process gets a server of its own. After an interrupted call the server is stopped, because its answer
    would come later; the next call starts a new one."""

    def __init__(self, command=None):
        self._command = command or ["go", "run", "./serve"]
        self._pid, self._lock, self._id = os.getpid(), threading.RLock(), 0
        self._process = self._errors = None
        self._busy = False
        hello = self.call("hello")
        self.version, self.constants = hello["version"], hello["constants"]
        for entry in hello["computations"]:
            package, name = entry["name"].split(".", 1)
            if not hasattr(self, package):
                setattr(self, package, types.SimpleNamespace())
            setattr(getattr(self, package), name.replace(".", "_"), self._function(entry))

    def call(self, method, **params):
        if os.getpid() != self._pid:  # forked: pipe and lock belong to the parent
            self._pid, self._lock, self._process, self._busy = os.getpid(), threading.RLock(), None, False
        with self._lock:
            if self._busy:
                raise RuntimeError("a call inside a call (from a signal handler?)")
            self._busy = True
            try:
                return self._ask(method, params)
            except PithballError:
                raise  # a fault of the question: the server goes on
            except BaseException as e:  # KeyboardInterrupt too: what comes down the pipe later answers nothing that is asked
                reason = self._stop()
                if isinstance(e, (EOFError, OSError, ValueError)):
                    raise RuntimeError(f"the server ended or sent no answer ({e}){reason}; the next call starts a new one") from e
                print("pithball: the call was interrupted and its server stopped; the next call starts a new one", file=sys.stderr)
                raise
            finally:
                self._busy = False

    def _ask(self, method, params):
        if self._process is None:
            self._start()
        self._id += 1
        self._process.stdin.write(json.dumps({"jsonrpc": "2.0", "id": self._id, "method": method, "params": params}) + "\n")
        self._process.stdin.flush()
        while True:
            line = self._process.stdout.readline()
            if not line:
                raise EOFError("its output ended")
            answer = json.loads(line)
            id = answer.get("id")
            if isinstance(id, int) and 0 < id < self._id:
                continue  # of an earlier question that nobody waits for
            if id != self._id:
                raise ValueError(f"an answer to question {id} where {self._id} was asked")
            if "error" in answer:
                raise PithballError(answer["error"])
            return answer["result"]

    def _start(self):
        # A group of its own: an interrupt of the notebook does not reach it, and
        # "go run" is stopped together with the program that it runs.
        group = {"creationflags": subprocess.CREATE_NEW_PROCESS_GROUP} if os.name == "nt" else {"start_new_session": True}
        self._errors = tempfile.TemporaryFile()
        self._process = subprocess.Popen(self._command, cwd=HERE, stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                                         stderr=self._errors, text=True, encoding="utf-8", **group)

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
            return f", exit {code}: " + errors.read().decode("utf-8", "replace")[-500:].strip()

    def diagnose(self, line, survey):
        """The main job: texts of a line description and of a survey."""
        return self.call("survey", line=line, survey=survey)

    def close(self):
        with self._lock:
            if self._process is not None and os.getpid() == self._pid:
                self._process.stdin.close()
                self._process.wait()
                self._process.stdout.close()
                self._errors.close()
                self._process = None

    def _function(self, entry):
        names = [a["name"] for a in entry["args"]]

        def f(*args, **kwargs):
            if len(args) > len(names):
                raise TypeError(f"{entry['name']} takes {len(names)} arguments")
            given = dict(zip(names, args))
            given.update(kwargs)
            for k, v in given.items():
                given[k] = v.tolist() if hasattr(v, "tolist") else v
            result = self.call("compute", name=entry["name"], args=given)
            return next(iter(result.values())) if len(result) == 1 else result

        f.__name__ = entry["name"].split(".", 1)[1].replace(".", "_")
        f.__doc__ = entry["doc"] + "\n\nArguments (SI):\n" + "\n".join(
            f"  {a['name']} [{a['unit']}] {a['low']:g} … {a['high']:g}  {a.get('doc', '')}" for a in entry["args"]) + "\nResults (SI):\n" + "\n".join(
            f"  {r['name']} [{r['unit']}]  {r.get('doc', '')}" for r in entry["results"]) + "\nSource: " + source(entry["source"])
        return f
