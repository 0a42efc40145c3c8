"""Trains the digit network on synthetic strips and writes it as ONNX.

    python -m training.train --seed 5 --strips 2400000 --processes 16 --out digits.onnx

Needs what training/requirements.txt names. Takes a GPU where there is one.
"""

import argparse
import json
import math
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import torch
from torch import nn

from training.train_export import read_onnx, write_onnx
from training.train_feed import Batch, batches, replayed
from training.train_network import DigitNet
from training.train_temperature import temperature_of

__all__ = ["main", "trained"]

_PER_STEP = 128
_HELD_OUT = 20_480
_WARM = 0.06


def main(arguments: Sequence[str] | None = None) -> None:
    """Train, calibrate on held-out strips, write the network and beside it what it ran on."""
    asked = _asked(arguments)
    device = "cuda" if torch.cuda.is_available() else "cpu"
    begun = time.monotonic()
    net = trained(
        asked.seed,
        asked.strips,
        start=asked.start,
        rate=asked.rate,
        processes=asked.processes,
        minutes=asked.minutes,
        device=device,
        out=asked.out,
    )
    spent = time.monotonic() - begun
    # Another seed than any chunk of the training: held out.
    held = list(batches(asked.seed + 1_000_000, asked.held_out, processes=asked.processes))
    found = temperature_of(net, held, device=device)
    write_onnx(net, asked.out, temperature=found.temperature)
    note = {
        "seed": asked.seed,
        "strips": asked.strips,
        "start": None if asked.start is None else asked.start.name,
        "rate": asked.rate,
        "seconds": round(spent),
        "device": torch.cuda.get_device_name() if device == "cuda" else "CPU",
        "torch": torch.__version__,
        "temperature": found.temperature,
        "held_out": asked.held_out,
        "held_out_loss_before": found.before,
        "held_out_loss_after": found.after,
    }
    asked.out.with_suffix(".json").write_text(json.dumps(note, indent=2) + "\n")
    _say(json.dumps(note))


def trained(
    seed: int,
    strips: int,
    *,
    start: Path | None,
    rate: float,
    processes: int,
    minutes: float,
    device: str,
    out: Path,
) -> DigitNet:
    """Return the network after ``strips`` strips, each seen about twice, ready to be asked.

    With ``start``, the ONNX file of an earlier run, it goes on from there with the normalisation
    fixed. ``rate`` is the highest learning rate. It ends after ``minutes`` at the latest, the rate
    falling in time. A checkpoint is written as ONNX to ``out`` every tenth of the way.
    """
    torch.manual_seed(seed)
    net = (DigitNet() if start is None else read_onnx(start)).to(device)
    steps = 2 * -(-strips // _PER_STEP)
    optimiser = torch.optim.AdamW(net.parameters(), lr=rate, weight_decay=1e-3)
    loss_of = nn.CTCLoss(zero_infinity=True)
    begun, running, done = time.monotonic(), 0.0, 0.0
    fed = replayed(batches(seed, strips, processes=processes), seed)
    for step, batch in enumerate(fed):
        done = max((step + 1) / steps, (time.monotonic() - begun) / (60.0 * minutes))
        if done >= 1.0:
            break
        for group in optimiser.param_groups:
            group["lr"] = rate * _pace(done)
        net.train(start is None)
        loss = batch_loss(net, batch, loss_of, device=device)
        optimiser.zero_grad(set_to_none=True)
        loss.backward()
        nn.utils.clip_grad_norm_(net.parameters(), 2.0)
        optimiser.step()
        if step % 100 == 0:
            running += 0.1 * (float(loss.detach()) - running)
        if (step + 1) % max(1, steps // 30) == 0:
            spent = time.monotonic() - begun
            _say(f"{step + 1}/{steps} {spent:.0f} s, loss {running:.3f}")
        if (step + 1) % max(1, steps // 10) == 0:
            net.eval()
            write_onnx(net, out, temperature=1.0)
    _say(f"{step + 1} steps of {steps}")
    return net.eval()


def _pace(done: float) -> float:
    """Return the learning rate's share after ``done`` (0 to 1) of the way: up, then a cosine."""
    if done < _WARM:
        return 0.05 + 0.95 * done / _WARM
    return 0.5 + 0.5 * math.cos(math.pi * (done - _WARM) / (1.0 - _WARM))


def batch_loss(
    net: DigitNet, batch: Batch, loss_of: nn.CTCLoss, *, device: str, temperature: float = 1.0
) -> torch.Tensor:
    """Return the mean CTC loss a character of ``batch``."""
    strips = torch.from_numpy(batch.strips).to(device)[:, None].float() / 255.0
    told = torch.log_softmax(net(strips) / temperature, -1).transpose(0, 1)
    steps = torch.full((told.shape[1],), told.shape[0], dtype=torch.long)
    loss: torch.Tensor = loss_of(
        told,
        torch.from_numpy(batch.labels).to(device),
        steps.to(device),
        torch.from_numpy(batch.lengths).to(device),
    )
    return loss


def _asked(arguments: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m training.train", description=__doc__)
    parser.add_argument("--seed", type=int, default=5)
    parser.add_argument("--strips", type=int, default=2_400_000, help="how many to train on")
    parser.add_argument("--minutes", type=float, default=600.0, help="to end after at the latest")
    parser.add_argument("--held-out", type=int, default=_HELD_OUT, help="to calibrate on")
    parser.add_argument("--processes", type=int, default=2, help="that render")
    parser.add_argument("--start", type=Path, help="the ONNX file of an earlier run, to go on from")
    parser.add_argument("--rate", type=float, default=4e-3, help="the highest learning rate")
    parser.add_argument("--out", type=Path, required=True, help="the ONNX file")
    return parser.parse_args(arguments)


def _say(line: str) -> None:
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
