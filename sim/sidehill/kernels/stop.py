"""The axle stop: a one-sided spring and damper at the front pivot pin."""

from sidehill.kernels.jit import kernel


@kernel
def stop_torque(angle: float, rate: float, swing: float, stiffness: float, damping: float) -> float:
    """[N m] on the pin joint at `angle` [rad] turning at `rate` [rad/s]; never pulls."""
    if angle > swing:
        return -max(0.0, stiffness * (angle - swing) + damping * rate)
    if angle < -swing:
        return max(0.0, stiffness * (-swing - angle) - damping * rate)
    return 0.0
