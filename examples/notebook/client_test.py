"""Tests of the client: python3 -m unittest client_test, with PITHBALL_SERVE naming a built server or Go installed."""
import os
import signal
import sys
import threading
import unittest

from client import Pithball, PithballError

REAL = [os.environ["PITHBALL_SERVE"]] if os.environ.get("PITHBALL_SERVE") else None

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
    if "stale" in p: say(id - 1, "the answer to another question")
    if "future" in p: say(id + 7, "the answer to another question")
    if "no" in p: print("out of order", file=sys.stderr); sys.exit(3)
    say(id, p["n"])
''']


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


if __name__ == "__main__":
    unittest.main()
