"""The cookies of a device that has joined, and the token that its changes carry.

Three cookies, all SameSite=Strict: the session (HttpOnly), under TLS another one that is sent over TLS only, and the
token, which our own scripts read and send back in a header. The token is worked out from the session, so that a page
kept for long still has the right one; what counts is that it fits the session, not that it equals the cookie.
"""

import re

from starlette.responses import Response

from oventide.services.devices import Device
from oventide.web.door import PLAIN_COOKIE, SECURE_COOKIE, SESSION_S, TOKEN_COOKIE, TOKEN_FIELD, Door

_POST_FORM = re.compile(r'<form\b[^>]*\bmethod="post"[^>]*>', re.IGNORECASE)


def signed_in(door: Door, device: Device, secure: bool) -> tuple[str, ...]:
    """Set-Cookie headers of a session, begun or renewed."""
    made = Response()
    made.set_cookie(
        SECURE_COOKIE if secure else PLAIN_COOKIE,
        door.session_for(device.id), max_age=SESSION_S, secure=secure, httponly=True, samesite="strict",
    )  # fmt: skip
    made.set_cookie(TOKEN_COOKIE, door.token_for(device.id), max_age=SESSION_S, httponly=False, samesite="strict")
    return tuple(made.headers.getlist("set-cookie"))


def signed_out(secure: bool) -> tuple[str, ...]:
    """Set-Cookie headers that end a session on this device."""
    made = Response()
    made.delete_cookie(PLAIN_COOKIE, httponly=True, samesite="strict")
    made.delete_cookie(TOKEN_COOKIE, samesite="strict")
    if secure:
        made.delete_cookie(SECURE_COOKIE, secure=True, httponly=True, samesite="strict")
    return tuple(made.headers.getlist("set-cookie"))


def with_token(html: str, token: str) -> str:
    """A page whose every form that changes something carries the token, scripts or none.

    >>> with_token('<form method="post" action="/units">', "a1")
    '<form method="post" action="/units"><input type="hidden" name="oventide_token" value="a1">'
    """
    if not token:
        return html
    hidden = f'<input type="hidden" name="{TOKEN_FIELD}" value="{token}">'
    return _POST_FORM.sub(lambda form: form.group() + hidden, html)
