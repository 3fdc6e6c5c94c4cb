#!/usr/bin/env python3
"""400 jobs through cli/cluster/on-slurm on a Slurm of this machine's own: daemons, key, sockets and ports in a temporary
folder, nothing of an installed cluster touched. The results must be those of one batch without it, also when a task
is killed with its daemon and the work is taken up again. Takes about a quarter of an hour; as root, before a release.

    TEARLINE=build/tearline python3 tests/cluster/slurm_run.py [--jobs 400]"""
import argparse
import os
import pathlib
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
from batches import compared, kill, lines_in, workers_of  # noqa: E402
from random_repairs import SOURCE, TEARLINE, Repair  # noqa: E402

ON_SLURM = SOURCE / "cli" / "cluster" / "on-slurm"


def free_port():
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        return listener.getsockname()[1]


class Slurm:
    """munged, slurmctld and slurmd for one machine; gone with their folder."""

    def __init__(self, room):
        self.room = pathlib.Path(room)
        self.daemons = {}
        self.host = socket.gethostname().split(".")[0]
        for name in ("state", "spool", "munge"):
            (self.room / name).mkdir(mode=0o755)
        self.env = dict(os.environ, SLURM_CONF=str(self.room / "slurm.conf"))
        self.write_configuration()

    def write_configuration(self):
        room = self.room
        (room / "cgroup.conf").write_text("CgroupPlugin=cgroup/v1\n", encoding="utf-8")
        (room / "slurm.conf").write_text(f"""ClusterName=shed
SlurmctldHost={self.host}(127.0.0.1)
SlurmUser=root
SlurmctldPort={free_port()}
SlurmdPort={free_port()}
AuthType=auth/munge
AuthInfo=socket={room}/munge/socket
CredType=cred/munge
CommunicationParameters=NoCtldInAddrAny,NoInAddrAny
StateSaveLocation={room}/state
SlurmdSpoolDir={room}/spool
SlurmctldPidFile={room}/slurmctld.pid
SlurmdPidFile={room}/slurmd.pid
SlurmctldLogFile={room}/slurmctld.log
SlurmdLogFile={room}/slurmd.log
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core
JobCompType=jobcomp/filetxt
JobCompLoc={room}/completed
ReturnToService=2
MaxArraySize=2001
SlurmdTimeout=30
MinJobAge=30
NodeName={self.host} NodeAddr=127.0.0.1 CPUs={os.cpu_count()} State=UNKNOWN
PartitionName=all Nodes={self.host} Default=YES MaxTime=INFINITE State=UP
""", encoding="utf-8")

    def start(self, name, *words):
        log = (self.room / f"{name}.out").open("a", encoding="utf-8")
        self.daemons[name] = subprocess.Popen(words, stdout=log, stderr=log, env=self.env, start_new_session=True)

    def up(self):
        munge = self.room / "munge"
        (munge / "key").write_bytes(os.urandom(128))
        (munge / "key").chmod(0o400)
        self.start("munged", "munged", "--foreground", "--force", f"--key-file={munge}/key", f"--socket={munge}/socket",
                   f"--pid-file={munge}/pid", f"--log-file={munge}/log", f"--seed-file={munge}/seed")
        self.wait_for(lambda: (munge / "socket").exists(), "munged")
        self.start("slurmctld", "slurmctld", "-D", "-f", str(self.room / "slurm.conf"))
        self.start_node()

    def start_node(self):
        self.start("slurmd", "slurmd", "-D", "-f", str(self.room / "slurm.conf"), "-N", self.host)
        self.wait_for(lambda: self.ask("sinfo", "-h", "-o", "%T").split() in (["idle"], ["mixed"], ["allocated"]), "the node")

    def ask(self, *words):
        return subprocess.run(words, capture_output=True, text=True, env=self.env, timeout=60, check=False).stdout

    def wait_for(self, ready, what):
        end = time.monotonic() + 120
        while not ready():
            if time.monotonic() > end:
                for log in sorted(self.room.glob("*.out")) + sorted(self.room.glob("*.log")):
                    print(log, log.read_text(encoding="utf-8")[-1500:], sep="\n", file=sys.stderr)
                raise SystemExit(f"slurm_run: {what} did not come up")
            time.sleep(0.2)

    def down(self):
        self.ask("scancel", "--full", "--state=RUNNING")
        for name in ("slurmd", "slurmctld", "munged"):
            daemon = self.daemons.get(name)
            if daemon and daemon.poll() is None:
                daemon.terminate()
                try:
                    daemon.wait(20)
                except subprocess.TimeoutExpired:
                    daemon.kill()
                    daemon.wait()


def make_list(folder, count):
    folder.mkdir()
    names = []
    for number in range(count):
        names.append(f"{number:04d}.toml")
        text = Repair(1000 + number).text
        (folder / names[-1]).write_text(text.replace("depth = ", "depht = ") if number % 50 == 7 else text,
                                        encoding="utf-8")
    (folder / "list.txt").write_text("\n".join(names) + "\n", encoding="utf-8")


def on_slurm(slurm, jobs, out, seconds, *words, before=()):
    """The command as an administrator gives it; slices of a minute."""
    env = dict(slurm.env, TEARLINE=TEARLINE, MINUTES="1", SECONDS_A_JOB=f"{seconds:.2f}")
    return subprocess.Popen([str(ON_SLURM), *before, str(jobs / "list.txt"), str(out), *words], env=env,
                            stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)


def ended(run, what):
    said, _ = run.communicate(timeout=3600)
    if run.returncode != 0:
        raise SystemExit(f"slurm_run: {what}: exit {run.returncode}\n{said}")


def same(found, wanted, what):
    if compared(found) != wanted:
        raise SystemExit(f"slurm_run: {what}: {len(found)} results differ from those of one batch")
    print(f"{what}: {len(found)} results, as by one batch", flush=True)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--jobs", type=int, default=400)
    count = parser.parse_args().jobs
    room = pathlib.Path(tempfile.mkdtemp(prefix="tearline-slurm-"))
    slurm = Slurm(room)
    try:
        jobs = room / "jobs"
        make_list(jobs, count)
        began = time.monotonic()
        subprocess.run([TEARLINE, "batch", str(jobs / "list.txt"), "-o", str(room / "one"), "--lean"], check=True,
                       stderr=subprocess.DEVNULL)
        lines = lines_in(room / "one")
        wanted = compared(lines)
        each = sum(line["seconds"] for line in lines) / len(lines)
        print(f"one batch: {count} jobs in {time.monotonic() - began:.0f} s, {each:.2f} s a job", flush=True)
        slurm.up()

        began = time.monotonic()
        ended(on_slurm(slurm, jobs, room / "array", each, "--lean"), "the array")
        same(lines_in(room / "array"), wanted, f"an array in {time.monotonic() - began:.0f} s")

        # Killed at work: node, task and workers; what was done stands, the queue takes the rest up again.
        run = on_slurm(slurm, jobs, room / "killed", each, "--lean")
        slurm.wait_for(lambda: len(lines_in(room / "killed")) > count // 20, "the first results")
        os.killpg(slurm.daemons["slurmd"].pid, signal.SIGKILL)
        for pid in batches_of(room / "killed"):
            kill(pid)
        slurm.wait_for(lambda: not workers_of(jobs), "the end of the workers")
        before = len(lines_in(room / "killed"))
        slurm.start_node()
        said, _ = run.communicate(timeout=3600)
        if run.returncode != 0:
            ended(on_slurm(slurm, jobs, room / "killed", each, "--lean"), "the same command again")
        same(lines_in(room / "killed"), wanted, f"killed after {before}")

        if shutil.which("parallel"):
            few = room / "few"
            make_list(few, 40)
            subprocess.run([TEARLINE, "batch", str(few / "list.txt"), "-o", str(room / "few-one"), "--lean"], check=True,
                           stderr=subprocess.DEVNULL)
            # These jobs name their models by their whole path, which leads to them from anywhere on this machine.
            ended(on_slurm(slurm, few, room / "away", 10.0, before=("--no-share", str(few))), "without a share")
            same(lines_in(room / "away"), compared(lines_in(room / "few-one")), "without a shared file system")
        print("on-slurm: all results as by one batch")
    finally:
        slurm.down()
        shutil.rmtree(room, ignore_errors=True)


def batches_of(out):
    """Processes that run a batch with results in a folder."""
    found = []
    for folder in pathlib.Path("/proc").iterdir():
        if folder.name.isdigit():
            try:
                words = (folder / "cmdline").read_bytes().split(b"\0")
            except OSError:
                continue
            if len(words) > 2 and words[1] == b"batch" and os.fsencode(str(out)) in words:
                found.append(int(folder.name))
    return found


if __name__ == "__main__":
    main()
