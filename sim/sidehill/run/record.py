"""The time history of one case: one file, self-describing."""

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from html import escape
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.parquet as pq
from scipy.spatial.transform import Rotation

from sidehill.case import Case
from sidehill.caution import CAUTION
from sidehill.engines import PACKAGES
from sidehill.files.errors import InputError
from sidehill.files.whole import writing
from sidehill.flat import Flat
from sidehill.kernels.height import COLUMNS as FEATURE
from sidehill.kernels.layout import CASE, PIN, STATE, Records, Vector
from sidehill.machine.linkage import WHEELS
from sidehill.physics import PHYSICS_VERSION
from sidehill.run import Track, run
from sidehill.run.columns import told
from sidehill.run.outcome import Outcome, read

FORMAT = 4
_KEY = b"sidehill"
_SEAL = "sha256"  # of the rest of the record, in its own metadata
_UNREADABLE = (
    *(OSError, pa.ArrowException, AttributeError, KeyError, TypeError, ValueError),
    RecursionError,
)
_SAVED_VERSIONS = ("sidehill", "numpy", "numba", *PACKAGES)


@dataclass(frozen=True, repr=False)
class Record:
    """Columns over time, each (n,) and named with its unit, and what they came from."""

    columns: dict[str, Vector]
    meta: dict[str, Any]  # case, key, engine, kernels, versions, urdf, features, step, state

    @cached_property
    def state(self) -> Records:
        """(1,) last state of the run: what was tracked at every step."""
        return np.array(self.meta["state"], dtype=np.float64).view(STATE)

    @cached_property
    def numbers(self) -> Records:
        """(1,) numbers of the case, as the kernels read them."""
        return np.array(self.meta["numbers"], dtype=np.float64).view(CASE)

    @cached_property
    def outcome(self) -> Outcome:
        """What is read off it: the two facts, peaks, angles, spells."""
        return read(self.state, self.numbers)

    def to_pandas(self) -> pd.DataFrame:
        """The columns as a frame, a row a moment, by `t_s`."""
        return pd.DataFrame(self.columns).set_index("t_s")

    def __repr__(self) -> str:
        case = self.meta["case"]
        what = f"{case['machine']['name']}, {case['scenario']['title']}"
        return f"Record({what}, {self.meta['engine']}: {self.outcome.why})"

    def _repr_html_(self) -> str:
        """Its case and outcome as a table, for a notebook."""
        case, told = self.meta["case"], self.outcome.to_dict()
        rows = {
            "machine": case["machine"]["name"],
            "scenario": case["scenario"]["title"],
            "engine": self.meta["engine"],
            "key": self.meta["key"],
        } | {name: value for name, value in told.items() if not isinstance(value, list | dict)}
        cells = (f"<tr><th>{escape(k)}</th><td>{escape(str(v))}</td></tr>" for k, v in rows.items())
        return f"<table>{''.join(cells)}</table>"

    @property
    def step(self) -> float:
        """[s] of the simulation's clock."""
        return float(self.meta["step"])

    def place(self, link: str) -> Vector:
        """(n, 3) [m] of a link frame in the world."""
        return np.stack([self.columns[f"{link}_{axis}_m"] for axis in "xyz"], axis=1)

    def quaternion(self, link: str) -> Vector:
        """(n, 4) of a link frame, x y z w."""
        return np.stack([self.columns[f"{link}_q{axis}"] for axis in "xyzw"], axis=1)


def simulate(
    case: Case, engine: str = "auto", watch: Callable[[Track], None] | None = None
) -> Record:
    """Run a case, a fall to its rest included, and keep its history; see `run`."""
    return build_record(case, run(case, engine, watch, to_rest=True))


def build_record(case: Case, track: Track) -> Record:
    """The record of a finished run."""
    rows, flat = track.written(), track.flat
    rows = rows[np.isfinite(rows["quaternion"]).all(axis=1)]  # past bad numbers there is no pose
    columns = {"t_s": rows["t_s"].copy()}
    columns |= _poses(flat, rows)
    for name in ("roll_slope", "pitch_slope", "roll_horizon", "slope", "steer"):
        columns[f"{name}_deg"] = np.degrees(rows[name])
    columns["roll_rate_deg_s"] = np.degrees(rows["roll_rate"])
    columns["pin_deg"] = np.degrees(rows["joint"][:, PIN])
    columns["drive_torque_nm"] = rows["drive_torque"].copy()
    ahead = Rotation.from_quat(rows["quaternion"]).apply([1.0, 0.0, 0.0])
    columns["speed_m_s"] = np.sum(rows["velocity"] * ahead, axis=1)
    columns["path_m"], columns["off_path_m"] = rows["path"].copy(), rows["off_path"].copy()
    for i, wheel in enumerate(WHEELS):
        columns[f"load_{wheel}_n"] = rows["load"][:, i].copy()
        columns[f"force_forward_{wheel}_n"] = rows["tangential"][:, i, 0].copy()
        columns[f"force_left_{wheel}_n"] = rows["tangential"][:, i, 1].copy()
        columns[f"slip_{wheel}"] = rows["slip"][:, i].copy()
        columns[f"daylight_{wheel}_m"] = rows["gap"][:, i].copy()
    columns["balance_angle_deg"] = np.degrees(rows["balance"])
    columns["lift_off_angle_deg"] = np.degrees(rows["lift_off"])
    return Record(columns, _meta(case, track))


def _meta(case: Case, track: Track) -> dict[str, Any]:
    return {
        "format": FORMAT,
        "case": case.resolved(),
        "key": case.key(),
        "engine": track.engine.name,
        "kernels": PHYSICS_VERSION,
        "versions": {name: _version(name) for name in sorted(_SAVED_VERSIONS)},
        "seed": case.scenario.ground.seed,
        "urdf": track.flat.urdf,
        "features": track.flat.ground.features.tolist(),
        "step": case.scenario.run.step,
        "state": track.state.view(float).tolist(),
        "numbers": track.flat.case.view(float).tolist(),
        "notes": list(track.flat.notes),
        "warnings": list(track.flat.fitted.warnings),
        "caution": CAUTION,
    }


def _version(package: str) -> str:
    try:
        return version(package)
    except PackageNotFoundError:
        return "not installed"


def _poses(flat: Flat, rows: Records) -> dict[str, Vector]:
    """Place and quaternion of every link over time."""
    columns: dict[str, Vector] = {}
    turns = {"chassis": Rotation.from_quat(rows["quaternion"])}
    places = {"chassis": rows["position"]}
    for link in flat.links:
        if link.parent is not None:
            carrier = turns[link.parent]
            places[link.name] = places[link.parent] + carrier.apply(link.origin)
            angle = np.full(len(rows), link.angle)
            if link.name in flat.moving:
                angle = rows["joint"][:, flat.moving.index(link.name) - 1]
            turns[link.name] = carrier * Rotation.from_rotvec(angle[:, None] * link.axis)
        quaternion = turns[link.name].as_quat()
        for k, axis in enumerate("xyz"):
            columns[f"{link.name}_{axis}_m"] = places[link.name][:, k].copy()
        for k, axis in enumerate("xyzw"):
            columns[f"{link.name}_q{axis}"] = quaternion[:, k].copy()
    return columns


def save_record(record: Record, path: Path) -> None:
    """Write a record as Parquet, whole or not at all. Same record, same bytes.

    Raises:
        SidehillError: the place cannot be written.
    """
    meta = json.dumps(record.meta | {_SEAL: seal(record.columns, record.meta)}, sort_keys=True)
    form = pa.schema(
        [pa.field(name, pa.float64(), metadata=told(name)) for name in record.columns],
        {_KEY: meta.encode()},
    )
    table = pa.table(record.columns, schema=form)
    with writing(path) as file:
        pq.write_table(table, file)


def seal(columns: Mapping[str, Vector], meta: Mapping[str, Any]) -> str:
    """Hash of a record's content: Parquet itself does not notice a changed byte."""
    digest = hashlib.sha256(json.dumps(meta, sort_keys=True).encode())
    for name, values in columns.items():
        digest.update(name.encode("utf-8", "surrogatepass"))
        digest.update(np.ascontiguousarray(values, dtype=np.float64).tobytes())
    return digest.hexdigest()


def load_record(path: Path) -> Record:
    """Read a record.

    Raises:
        InputError: missing, cut short, not a record of this format, or not as it was written.
    """
    if not path.is_file():
        raise InputError(f"{path}: no such record")
    try:
        table = pq.ParquetFile(path).read()
        meta = json.loads((table.schema.metadata or {})[_KEY])
        written = meta.get("format")
    except _UNREADABLE:
        raise InputError(f"{path}: not a record of `sidehill drive`, or cut short") from None
    if written != FORMAT:
        raise InputError(
            f"{path}: record format {ascii(written)[:20]}; this reads {FORMAT}; make it again"
        )
    try:
        columns = {name: table.column(name).to_numpy() for name in table.column_names}
        whole = meta.pop(_SEAL, None) == seal(columns, meta)
    except _UNREADABLE:
        whole = False
    if not whole:
        raise InputError(
            f"{path}: changed or damaged since it was written; make it again with `sidehill drive`"
        )
    record = Record(columns, meta)
    try:
        _check(record)
    except (*_UNREADABLE, IndexError, InputError):
        raise InputError(
            f"{path}: sealed as a record, but it holds no run; make it again with `sidehill drive`"
        ) from None
    return record


def _check(record: Record) -> None:
    """Whatever is read of a record later on is there, and of its kind.

    Raises:
        one of _UNREADABLE, IndexError, InputError: it is not.
    """
    case, meta = Case.from_resolved(record.meta["case"]), record.meta
    if case.resolved() != meta["case"] or meta["step"] != case.scenario.run.step:
        raise ValueError("a case that is read as another one")
    told_of = [*record.place("chassis").T, *record.quaternion("chassis").T]
    told_of += [record.columns[f"load_{wheel}_n"] for wheel in WHEELS]
    if not all(np.isfinite(column).all() for column in (*told_of, *record.columns.values())):
        raise ValueError("no numbers")
    np.array(meta["features"], dtype=np.float64).reshape(-1, FEATURE)
    texts = (meta["key"], meta["engine"], meta["urdf"], *meta["notes"], *meta["warnings"])
    if not all(isinstance(text, str) for text in texts) or not meta["urdf"].startswith("<"):
        raise ValueError("no text")
    record.outcome.to_dict()
