"""By hand: what a campaign finds, as it comes, and its counts.

`python tests/fuzz/by_hand.py files 10000 1`, `python tests/fuzz/by_hand.py records 2000 1`,
`python tests/fuzz/by_hand.py meaning 5000 1`.
"""

import os
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from fuzz import files, meaning, records, results

ENDINGS = {"files": ".toml", "records": ".parquet", "results": ".parquet", "meaning": ".json"}
CAMPAIGNS = {
    "files": files.campaign,
    "records": records.campaign,
    "results": results.campaign,
    "meaning": meaning.campaign,
}


def main(what: str, count: int, seed: int) -> int:
    """Print finds as they come, and the counts; the number of finds."""
    home, started = Path.cwd(), time.monotonic()
    ends: Counter[tuple[str, str]] = Counter()
    finds: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        for fate in CAMPAIGNS[what](seed, count, Path(folder)):
            ends[fate.line.split()[0], str(fate.exit_code)] += 1
            if not fate.wrong:
                continue
            finds[fate.wrong[:90]] += 1
            if finds[fate.wrong[:90]] == 1:
                kept = home / f"find-{seed}-{len(finds)}{ENDINGS[what]}"
                kept.write_bytes(fate.raw)
                print(f"{kept.name} [{fate.done}] {fate.line}\n    {fate.wrong[:400]}", flush=True)
        os.chdir(home)
    print(f"{count} {what}, seed {seed}, {time.monotonic() - started:.0f} s")
    for (command, code), number in sorted(ends.items()):
        print(f"  {command:8} exit {code}: {number}")
    for wrong, number in finds.most_common():
        print(f"  {number:5} x {wrong}")
    return sum(finds.values())


if __name__ == "__main__":
    kind, count, seed = sys.argv[1:]
    sys.exit(min(1, main(kind, int(count), int(seed))))
