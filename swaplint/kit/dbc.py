"""Turning the messages of a DBC file into fields of a spec.

A spec never names a DBC file: reading one takes a parser of its own, which has no business in the inspection of a
stranger's spec, and the values would have no line in the spec for findings to point at. So the file is converted once,
by the person who has it, and what comes out is plain TOML to check, correct and keep.

    python -m swaplint.kit dbc vehicle.dbc --engine ENGINE >> my-swap.toml
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import tomli_w

from swaplint.engineering.can_bus import NULL_ADDRESS, split_identifier
from swaplint.spec.systems.network import J1939

_HEAD = """\
# From {file}. It says what a message has room for, not what the device really fills in: compare with the bus.
# Not in a DBC file, and to be added: wires, terminators, and whether a device is terminated inside.
"""


def nodes_in(path: Path) -> dict[str, dict[str, Any]]:
    """The devices of a DBC file by name, each with its fields as TOML holds them.

    Needs the library cantools (`pip install 'swaplint[network]'`). Raises `ValueError` with a sentence where the file
    cannot be read as one.
    """
    try:
        import cantools
    except ImportError:
        raise ValueError("reading a DBC file needs cantools: pip install 'swaplint[network]'") from None
    try:
        database: Any = cantools.database.load_file(str(path), database_format="dbc", strict=False)
    except OSError as error:
        raise ValueError(f"{path} cannot be read: {error.strerror or error}") from None
    except Exception as error:  # the parser raises many kinds
        raise ValueError(f"{path} is not a DBC file that can be read: {str(error).splitlines()[0][:200]}") from None
    found: dict[str, dict[str, Any]] = {node.name: {} for node in database.nodes}
    for message in database.messages:
        for sender in message.senders:
            if sender in found:  # else the format's placeholder for nobody
                _add_sent(found[sender], message)
        for signal in message.signals:
            for receiver in signal.receivers:
                if signal.spn and receiver in found:  # 0 stands for none
                    needs = found[receiver].setdefault("needs", [])
                    if signal.spn not in needs:
                        needs.append(signal.spn)
    rate = _bit_rate(database)
    for node in database.nodes:
        fields = found[node.name]
        _add_address(fields, node)
        fields.pop("_sources", None)
        fields.setdefault("sends", [])
        fields.setdefault("needs", [])
        if rate:
            fields["bit_rate"] = rate
    return {_name(name): fields for name, fields in found.items()}


def _add_sent(fields: dict[str, Any], message: Any) -> None:
    if message.protocol == "j1939":
        parts = split_identifier(message.frame_id)
        number, protocol = parts.group, J1939
        fields.setdefault("_sources", set()).add(parts.source)
    else:
        number, protocol = message.frame_id, "other-29-bit" if message.is_extended_frame else "other-11-bit"
    fields.setdefault("protocol", protocol)
    sent: dict[str, Any] = {"group": number, "name": message.name, "bytes": message.length}
    if message.cycle_time:
        sent["period"] = f"{message.cycle_time:g} ms"
    parameters = sorted({signal.spn for signal in message.signals if signal.spn})
    if parameters or not message.signals:
        sent["parameters"] = parameters
    fields.setdefault("sends", []).append(sent)


def _add_address(fields: dict[str, Any], node: Any) -> None:
    stated = node.dbc.attributes.get("NmStationAddress") if node.dbc is not None else None
    sources = {address for address in fields.get("_sources", ()) if address < NULL_ADDRESS}
    if stated is not None and 0 <= int(stated.value) < NULL_ADDRESS:
        fields["address"] = int(stated.value)
    elif len(sources) == 1:
        fields["address"] = sources.pop()


def _bit_rate(database: Any) -> str:
    stated = database.dbc.attributes.get("Baudrate") if database.dbc is not None else None
    if stated is None or not float(stated.value) > 0.0:
        return ""
    rate = float(stated.value)
    return f"{rate / 1000.0 if rate >= 10e3 else rate:g} kbit/s"


def _name(name: str) -> str:
    return re.sub(r"[^A-Za-z0-9_-]", "_", name)[:60]


def as_toml(path: Path, engine: str = "") -> str:
    """The devices of a DBC file as TOML; the device named `engine` as the engine package. Raises `ValueError`."""
    nodes = nodes_in(path)
    data: dict[str, Any] = {}
    if engine:
        if engine not in nodes:
            raise ValueError(f"{path.name} has no device {engine}; it has {', '.join(nodes) or 'none'}")
        data["engine"] = {"network": nodes.pop(engine)}
    data["electrics"] = {"network": {"nodes": nodes}}
    return _HEAD.format(file=path.name) + "\n" + tomli_w.dumps(data)
