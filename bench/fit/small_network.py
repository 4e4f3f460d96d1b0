"""A small dense network and its fit by Levenberg-Marquardt, in plain numpy."""

from __future__ import annotations

import itertools
import math
import time

import numpy as np
import numpy.typing as npt
import scipy.linalg

F32 = np.float32
Array = npt.NDArray[np.float64]


class Network:
    """Dense network with tanh between its layers."""

    def __init__(self, sizes: list[int], rng: np.random.Generator) -> None:
        pairs = list(itertools.pairwise(sizes))
        self.weights = [rng.normal(size=pair) / math.sqrt(pair[0]) for pair in pairs]
        self.biases = [0.3 * rng.normal(size=pair[1]) for pair in pairs]

    def vector(self) -> Array:
        both = zip(self.weights, self.biases, strict=True)
        return np.concatenate([part.ravel() for pair in both for part in pair])

    def load(self, vector: Array) -> None:
        at = 0
        for layer, weight in enumerate(self.weights):
            self.weights[layer] = vector[at : at + weight.size].reshape(weight.shape)
            at += weight.size
            self.biases[layer] = vector[at : at + weight.shape[1]]
            at += weight.shape[1]

    def layers(self, x: npt.NDArray[F32]) -> list[npt.NDArray[F32]]:
        out = [x]
        for layer, weight in enumerate(self.weights):
            y = out[-1] @ weight.astype(F32) + self.biases[layer].astype(F32)
            out.append(np.tanh(y) if layer + 1 < len(self.weights) else y)
        return out


def normal_equations(
    net: Network, x: npt.NDArray[F32], y: npt.NDArray[F32], weight: Array
) -> tuple[Array, Array]:
    """J^T J and J^T r of the weighted misfit of a network with one output."""
    size = net.vector().size
    h, g = np.zeros((size, size)), np.zeros(size)
    for a in range(0, len(x), 8192):
        layers = net.layers(x[a : a + 8192])
        root = np.sqrt(weight[a : a + 8192]).astype(F32)
        jac = np.empty((root.size, size), F32)
        back = root[:, None]
        at = size
        for layer in range(len(net.weights) - 1, -1, -1):
            wide, deep = net.weights[layer].shape
            jac[:, at - deep : at] = back
            at -= deep
            outer = layers[layer][:, :, None] * back[:, None, :]
            jac[:, at - wide * deep : at] = outer.reshape(root.size, -1)
            at -= wide * deep
            back = back @ net.weights[layer].T.astype(F32) * (1.0 - layers[layer] ** 2)
        h += jac.T @ jac
        g += jac.T @ ((y[a : a + 8192] - layers[-1][:, 0]) * root)
    return h, g


def levenberg_marquardt(
    net: Network,
    x: npt.NDArray[F32],
    y: npt.NDArray[F32],
    weight: Array,
    damping: float,
    seconds: float,
    rounds: int = 1000,
) -> None:
    """Fit a network with one output until it stands still or the time is up."""
    began = time.perf_counter()
    place = net.vector()

    def loss() -> float:
        return float(np.sum(weight * (net.layers(x)[-1][:, 0] - y).astype(np.float64) ** 2))

    best = loss()
    for _ in range(rounds):
        h, g = normal_equations(net, x, y, weight)
        diagonal = np.diag(h) + 1e-6 * np.trace(h) / place.size
        for _ in range(8):
            try:
                step = scipy.linalg.solve(h + damping * np.diag(diagonal), g, assume_a="pos")
            except np.linalg.LinAlgError:
                damping = max(10.0 * damping, 1e-6)
                continue
            net.load(place + step)
            now = loss()
            if now < best:
                break
            damping *= 5.0
        else:
            net.load(place)
            return
        place = place + step
        gain, best = 1.0 - now / best, now
        damping = max(damping / 4.0, 1e-6)
        if gain < 2e-5 or time.perf_counter() - began > seconds:
            return
