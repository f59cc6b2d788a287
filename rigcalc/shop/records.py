"""The records of the blocks that a shop may leave out, from values that were found in order."""

from __future__ import annotations

from math import radians

from rigcalc.shop.model import Cutting, Growth, Offcut, PriceList, ProofProcedure, PulledLot, ShopFitting

__all__ = ["stored"]


def stored(values: dict) -> dict:
    """The fields of a `Shop` that may stay empty, by name."""
    invented = values["shop"]["invented"]
    return {
        "growths": tuple(_growth(g) for g in values["growth"]),
        "prices": _prices(values["prices"]) if values["prices"] else None,
        "pulled_lots": tuple(_lot(lot) for lot in values["pulled_lot"]),
        "offcuts": tuple(_offcut(o, values["reel"]) for o in values["offcut"]),
        "fittings": tuple(_fitting(f) for f in values["fitting"]),
        "clips": tuple(_clip(c, invented) for c in values["clip"]),
        "cutting": _cutting(values["cutting"]) if values["cutting"] else None,
        "proof": _proof(values["proof"]) if values["proof"] else None}


def _growth(v: dict) -> Growth:
    return Growth(v["sleeve_metal"], v["size"], v["tool"], v["edition"], v["before"], v["after"], v["measured_by"],
                  v["measured_on"])


def _lot(v: dict) -> PulledLot:
    return PulledLot(v["id"], v["what"], v["size"], v["construction"], v["metal"], v["sleeve_metal"], v["tool"], v["forces"],
                     v["endings"], v["pulled_by"], v["pulled_on"], v["instrument"], v["instrument_due"], v.get("reel"),
                     v.get("set_aside"))


def _offcut(v: dict, reels: list[dict]) -> Offcut:
    reel = next((r for r in reels if r["id"] == v.get("reel")), None) or {}
    return Offcut(v["id"], v.get("reel"), reel.get("certificate"), v["length"], reel.get("size", "unknown"),
                  reel.get("construction", "unknown"), reel.get("metal", "unknown"), v["kept_by"], v["kept_on"])


def _fitting(v: dict) -> ShopFitting:
    from rigcalc.fittings import AngleChart, Fitting

    chart = None
    if "angles" in v:
        chart = AngleChart(tuple((radians(degrees), force_n) for degrees, force_n in v["angles"]), v["angles_source"])
    return ShopFitting(Fitting(v["kind"], v["name"], v["limit"], chart), v["sizes"], v.get("pin"), v["maker"])


def _clip(v: dict, invented: bool):
    from rigcalc.clips import ClipRow

    return ClipRow(size=v["size"], turnback_mm=v["turnback"], torque_nm=v["torque"], number=v["number"], maker=v["maker"],
                   edition=v["edition"], copied_by=v["copied_by"], checked_by=v["checked_by"], base_mm=v.get("base"),
                   invented=invented, source=f"{v['maker']}, edition {v['edition']}", how_known="copied")


def _prices(v: dict) -> PriceList:
    return PriceList(v["currency"], v["cable_metre"], v["sleeve"], v["thimble"], v["clip"], v["minute"], v.get("sleeve_minutes"),
                     v.get("clip_minutes"), v["set_by"], v["set_on"])


def _cutting(v: dict) -> Cutting:
    return Cutting(v["kerf"], v["keep_length"], v["trial_pieces"])


def _proof(v: dict) -> ProofProcedure:
    return ProofProcedure(v["procedure"], v["rule"], v["cap_share"], v["instrument"], v["instrument_due"], v["hold_seconds"],
                          v["set_by"], v["set_on"])
