"""Client of pithball's notebook server: standard library only.

    from client import Pithball
    p = Pithball()                                   # builds and starts the server: needs Go
    p.charge.FieldFactor(distance=0.025, gap=[0.01, 0.1, 1])
    help(p.charge.FieldFactor)

All numbers are SI. Functions, arguments, units, ranges and texts come from the server, so that nothing is written twice.
A number that is not finite comes back as None. Faults raise PithballError with .field, .value and .want."""
import json
import os
import subprocess
import types

HERE = os.path.dirname(os.path.abspath(__file__))


class PithballError(Exception):
    def __init__(self, error):
        super().__init__(error["message"])
        data = error.get("data") or {}
        self.field, self.value, self.want = data.get("field"), data.get("value"), data.get("want")


class Pithball:
    def __init__(self, command=None):
        self._process = subprocess.Popen(command or ["go", "run", "./serve"], cwd=HERE, stdin=subprocess.PIPE,
                                         stdout=subprocess.PIPE, text=True, encoding="utf-8")
        self._id = 0
        hello = self.call("hello")
        self.version, self.constants = hello["version"], hello["constants"]
        for entry in hello["computations"]:
            package, name = entry["name"].split(".", 1)
            if not hasattr(self, package):
                setattr(self, package, types.SimpleNamespace())
            setattr(getattr(self, package), name.replace(".", "_"), self._function(entry))

    def call(self, method, **params):
        self._id += 1
        self._process.stdin.write(json.dumps({"jsonrpc": "2.0", "id": self._id, "method": method, "params": params}) + "\n")
        self._process.stdin.flush()
        line = self._process.stdout.readline()
        if not line:
            raise RuntimeError("the server ended")
        answer = json.loads(line)
        if "error" in answer:
            raise PithballError(answer["error"])
        return answer["result"]

    def survey(self, line, survey):
        """The main job: texts of a line description and of a survey."""
        return self.call("survey", line=line, survey=survey)

    def close(self):
        self._process.stdin.close()
        self._process.wait()

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
            f"  {r['name']} [{r['unit']}]  {r.get('doc', '')}" for r in entry["results"]) + "\nSource: " + (entry["source"].get("cite") or entry["source"]["provenance"])
        return f
