"""The temperature that makes the network's probabilities mean what they say."""

from collections.abc import Sequence
from dataclasses import dataclass

import torch
from torch import nn

from training.train_feed import Batch
from training.train_network import DigitNet

__all__ = ["Calibrated", "temperature_of"]

_TRIED = [round(0.6 + 0.05 * step, 2) for step in range(49)]


@dataclass(frozen=True, slots=True)
class Calibrated:
    """The ``temperature`` of the least loss; ``before`` and ``after`` the mean negative log
    probability of the true text at temperature 1 and at that one."""

    temperature: float
    before: float
    after: float


def temperature_of(net: DigitNet, held: Sequence[Batch], *, device: str) -> Calibrated:
    """Return the temperature at which the true texts of ``held`` (strips never trained on) are
    most probable, scores divided by it (Guo et al. 2017, 'On calibration of modern neural
    networks', section 4.2, on CTC's probability of the whole text)."""
    loss_of = nn.CTCLoss(reduction="sum", zero_infinity=True)
    losses = dict.fromkeys(_TRIED, 0.0)
    count = 0
    with torch.no_grad():
        for batch in held:
            strips = torch.from_numpy(batch.strips).to(device)[:, None].float() / 255.0
            scores = net(strips)
            count += len(batch.strips)
            labels = torch.from_numpy(batch.labels).to(device)
            lengths = torch.from_numpy(batch.lengths).to(device)
            steps = torch.full((len(batch.strips),), scores.shape[1]).to(device)
            for temperature in _TRIED:
                told = torch.log_softmax(scores / temperature, -1).transpose(0, 1)
                losses[temperature] += float(loss_of(told, labels, steps, lengths))
    best = min(_TRIED, key=losses.__getitem__)
    return Calibrated(best, losses[1.0] / count, losses[best] / count)
