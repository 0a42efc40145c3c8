"""Writes the trained network as an ONNX file, normalisation folded, temperature baked in."""

from pathlib import Path
from typing import Any

import numpy as np
from torch import nn

from training.train_network import DigitNet

__all__ = ["read_onnx", "write_onnx"]

_OPSET = 17
_FORMAT = 8


def write_onnx(net: DigitNet, path: Path, *, temperature: float) -> None:
    """Write ``net`` to ``path``: takes 'strips' float32 (n, 1, 32, W), gives 'told' float32
    (n, W / 4, classes), log probabilities at ``temperature``. onnxruntime reads it from 1.18 on.
    """
    from onnx import TensorProto, checker, helper, numpy_helper, save

    nodes, weights, name = [], [], "strips"
    for number, layer in enumerate(net.layers):
        weight, bias = _folded(layer)
        conv = layer[0]
        last = number == len(net.layers) - 1
        if last:
            weight, bias = weight / temperature, bias / temperature
        weights += [
            numpy_helper.from_array(weight.astype(np.float32), f"w{number}"),
            numpy_helper.from_array(bias.astype(np.float32), f"b{number}"),
        ]
        up, aside = conv.padding
        nodes.append(
            helper.make_node(
                "Conv",
                [name, f"w{number}", f"b{number}"],
                [f"c{number}"],
                kernel_shape=list(conv.kernel_size),
                strides=list(conv.stride),
                pads=[up, aside, up, aside],
            )
        )
        name = f"c{number}"
        if not last:
            nodes.append(helper.make_node("Relu", [name], [f"r{number}"]))
            name = f"r{number}"
    weights.append(numpy_helper.from_array(np.array([2], np.int64), "rows"))
    nodes += [
        helper.make_node("Squeeze", [name, "rows"], ["row"]),
        helper.make_node("Transpose", ["row"], ["steps"], perm=[0, 2, 1]),
        helper.make_node("LogSoftmax", ["steps"], ["told"], axis=2),
    ]
    graph = helper.make_graph(
        nodes,
        "digits",
        [helper.make_tensor_value_info("strips", TensorProto.FLOAT, ["n", 1, 32, "width"])],
        [
            helper.make_tensor_value_info(
                "told", TensorProto.FLOAT, ["n", "steps", weights[-2].dims[0]]
            )
        ],
        initializer=weights,
    )
    model = helper.make_model(graph, opset_imports=[helper.make_opsetid("", _OPSET)])
    model.ir_version = _FORMAT
    checker.check_model(model)
    save(model, str(path))


def read_onnx(path: Path) -> DigitNet:
    """Return the network that ``write_onnx`` wrote to ``path``, to be trained on with its
    normalisation fixed: in evaluation mode it tells what the file tells."""
    import torch
    from onnx import load, numpy_helper

    stored = {one.name: numpy_helper.to_array(one) for one in load(str(path)).graph.initializer}
    net = DigitNet().eval()
    with torch.no_grad():
        for number, layer in enumerate(net.layers):
            weight, bias = (torch.tensor(stored[f"{kind}{number}"]) for kind in "wb")
            layer[0].weight.copy_(weight)
            if len(layer) == 1:
                layer[0].bias.copy_(bias)
            else:
                layer[1].bias.copy_(bias)
                layer[1].running_var.fill_(1.0 - layer[1].eps)
    return net


def _folded(layer: Any) -> tuple[Any, Any]:
    conv = layer[0]
    weight = conv.weight.detach().cpu().double().numpy()
    if len(layer) == 1:
        return weight, conv.bias.detach().cpu().double().numpy()
    norm: nn.BatchNorm2d = layer[1]
    mean, var = (x.detach().cpu().double().numpy() for x in (norm.running_mean, norm.running_var))
    gain, shift = (x.detach().cpu().double().numpy() for x in (norm.weight, norm.bias))
    factor = gain / np.sqrt(var + norm.eps)
    return weight * factor[:, None, None, None], shift - mean * factor
