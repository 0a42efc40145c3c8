"""The network: convolutions over a strip, one column of classes for every four pixels."""

import torch
from torch import nn

from breakwright.reading.film_ports import ALPHABET

__all__ = ["CLASSES", "DigitNet"]

CLASSES = 1 + len(ALPHABET)


class DigitNet(nn.Module):
    """Takes strips (n, 1, 32, W) from 0 to 1, gives scores (n, W / 4, ``CLASSES``), not yet log
    probabilities; class 0 is CTC's blank.

    ``layers`` are convolutions, each with batch normalisation and a rectifier but the last, which
    gives the scores; nothing else, so that the export can write them down one by one.
    """

    def __init__(self) -> None:
        super().__init__()
        self.layers = nn.ModuleList(
            [
                _block(1, 16, (5, 5), stride=(2, 2)),
                _block(16, 32, (3, 3), stride=(2, 1)),
                _block(32, 56, (3, 3), stride=(2, 2)),
                _block(56, 80, (3, 3), stride=(1, 1)),
                _block(80, 112, (4, 3), stride=(1, 1), above=0),
                _block(112, 128, (1, 5), stride=(1, 1)),
                _block(128, 128, (1, 5), stride=(1, 1)),
                nn.Sequential(nn.Conv2d(128, CLASSES, 1)),
            ]
        )

    def forward(self, strips: torch.Tensor) -> torch.Tensor:
        seen = strips
        for layer in self.layers:
            seen = layer(seen)
        return seen.squeeze(2).transpose(1, 2)


def _block(
    taken: int,
    given: int,
    kernel: tuple[int, int],
    *,
    stride: tuple[int, int],
    above: int | None = None,
) -> nn.Sequential:
    padding = (kernel[0] // 2 if above is None else above, kernel[1] // 2)
    return nn.Sequential(
        nn.Conv2d(taken, given, kernel, stride=stride, padding=padding, bias=False),
        nn.BatchNorm2d(given),
        nn.ReLU(inplace=True),
    )
