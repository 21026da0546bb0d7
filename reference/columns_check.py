"""Reads the samples that a search writes with pyarrow, and has the program take what pyarrow wrote.

Two parts of a study are read by Apache Arrow's own reader: names, kinds, units, what is said of the study, and the
numbers against each other. Put together and written anew by pyarrow they are merged by the program, which must find
them whole. Raises AssertionError where something differs. Writes nothing but a temporary folder.

Run: python columns_check.py    (needs cargo)
"""

import os
import subprocess
import tempfile
from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq

ROOT = Path(__file__).parent.parent
CAR = ROOT / "examples" / "plover" / "whole.toml"
COUNT = 12


def soapstone(*arguments):
    command = ["cargo", "run", "-q", "-p", "soapstone", "--", *map(str, arguments)]
    done = subprocess.run(command, check=True, cwd=ROOT, env=dict(os.environ), capture_output=True, text=True)
    return done.stdout


def part(folder, begin, end):
    path = folder / f"{begin}.parquet"
    soapstone("search", CAR, "--count", COUNT, "--range", f"{begin}..{end}", "--out", path)
    table = pq.read_table(path)
    said = {k.decode(): v.decode() for k, v in table.schema.metadata.items()}
    assert said["count"] == str(COUNT) and said["range"] == f"{begin}..{end}", said
    assert len(said["study"]) == 16 and said["program"].startswith("soapstone "), said
    kinds = {f.name: f.type for f in table.schema}
    assert kinds["index"] == pa.uint64() and kinds["hole"] == pa.string(), kinds
    times = [name for name in kinds if name.startswith("time on ")]
    assert len(times) == 2 and all(kinds[n] == pa.float64() and said[f"unit.{n}"] == "s" for n in times), said
    assert said["unit.front-ride"] == "m"
    assert table["index"].to_pylist() == list(range(begin, end))
    assert all(20 < t < 400 for name in times for t in table[name].to_pylist())
    return table


def main():
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        first, second = part(folder, 0, 8), part(folder, 6, COUNT)
        # The two rows that both have are the same to the last bit.
        assert first.slice(6, 2).to_pydict() == second.slice(0, 2).to_pydict()
        whole = pa.concat_tables([first, second.slice(2)])
        fields = [f.with_nullable(False) for f in whole.schema]
        whole = whole.cast(pa.schema(fields, metadata=first.schema.metadata))
        written = folder / "pyarrow.parquet"
        pq.write_table(whole, written, compression="NONE", use_dictionary=True, data_page_size=1024)
        merged = folder / "merged.parquet"
        words = soapstone("merge", written, folder / "0.parquet", "--out", merged)
        assert "12 settings of 2 parts; 8 stood in more than one, alike" in words and "missing" not in words, words
        assert pq.read_table(merged).to_pydict() == whole.to_pydict()
    print(f"columns: {COUNT} settings in parts, read and written by pyarrow {pa.__version__}")


if __name__ == "__main__":
    main()
