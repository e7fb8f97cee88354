;;; emacs.el --- Tells the story of story.json as a person at Emacs would  -*- lexical-binding: t; -*-

;;; Commentary:

;; Run in a spoilt copy of the house: `emacs --batch --load emacs.el'.  Every step fails loudly if the answer is not what the
;; story says, or does not come.

;;; Code:

(require 'json)
(require 'package)
(package-activate-all)
(setq story-here (getenv "CLIENTS"))
(load (expand-file-name "../../editors/emacs/wythe-mode.el" story-here) nil t)
(require 'eglot)
;; Nobody is there to be asked.
(defalias 'y-or-n-p #'always)
(require 'flymake)

(setq wythe-server (list (getenv "WYTHE_LSP"))
      make-backup-files nil
      create-lockfiles nil
      eglot-confirm-server-initiated-edits nil)

(defconst story-patience 20 "Seconds to wait for an answer.")

(defconst story
  (let ((json-object-type 'alist) (json-array-type 'list))
    (json-read-file (expand-file-name "story.json" story-here))))

(defun story-of (key &optional in) (alist-get key (or in story)))

(defun story-say (format &rest arguments)
  (princ (concat (apply #'format format arguments) "\n")))

(defun story-fail (format &rest arguments)
  (story-say "FAILED: %s" (apply #'format format arguments))
  (kill-emacs 1))

(defun story-await (what look)
  "Wait until LOOK gives something, and give it; WHAT is waited for."
  (let ((end (+ (float-time) story-patience)) found)
    (while (not (setq found (funcall look)))
      (when (> (float-time) end) (story-fail "waited in vain for %s" what))
      (accept-process-output nil 0.02))
    found))

(defun story-go (line &optional word)
  "Put the cursor on WORD of LINE."
  (goto-char (point-min))
  (unless (re-search-forward (concat "^" (regexp-quote line) "$") nil t) (story-fail "no line `%s'" line))
  (beginning-of-line)
  (if word (progn (search-forward word (line-end-position)) (goto-char (match-beginning 0)))
    (back-to-indentation)))

(defun story-line () (buffer-substring-no-properties (line-beginning-position) (line-end-position)))

;; A person's Emacs tells the server of edits as soon as nobody types; nothing here is ever idle.
(defun story-tell-edits ()
  "Tell the server of the edits in all texts."
  (dolist (buffer (buffer-list))
    (with-current-buffer buffer
      (when (bound-and-true-p eglot--managed-mode) (eglot--signal-textDocument/didChange)))))

(defun story-mark (code)
  "The mark with this CODE, or that says it."
  (seq-find (lambda (mark)
              (let ((lsp (alist-get 'eglot-lsp-diag (flymake-diagnostic-data mark))))
                (equal (plist-get lsp :code) code)))
            (flymake-diagnostics)))

(defun story-diagnostics (list)
  (dolist (wanted list)
    (let* ((code (story-of 'code wanted))
           (mark (story-await (concat "the mark " code) (lambda () (story-mark code)))))
      (goto-char (flymake-diagnostic-beg mark))
      (unless (equal (story-line) (story-of 'line wanted)) (story-fail "%s stands at `%s'" code (story-line)))
      (unless (string-search (story-of 'says wanted) (flymake-diagnostic-text mark))
        (story-fail "%s" (flymake-diagnostic-text mark))))))

(defalias 'story-findings #'story-diagnostics)

(defun story-hover (list)
  ;; A question waits until the server knows all edits, those of a rename in other texts as well.
  (story-tell-edits)
  (dolist (wanted list)
    (story-go (story-of 'line wanted) (story-of 'word wanted))
    (let (said)
      (eglot-hover-eldoc-function (lambda (text &rest _) (setq said (and text (substring-no-properties text)))))
      (story-await (concat "the hover of " (story-of 'word wanted)) (lambda () said))
      (dolist (part (story-of 'says wanted))
        (unless (string-search part said) (story-fail "no `%s' in: %s" part said))))))

(defalias 'story-values #'story-hover)

(defun story-definition (list)
  (eglot--signal-textDocument/didChange)
  (let ((house (current-buffer)))
    (dolist (wanted list)
      (story-go (story-of 'line wanted) (story-of 'word wanted))
      (let ((found (xref-backend-definitions 'eglot (xref-backend-identifier-at-point 'eglot))))
        (unless found (story-fail "no place of %s" (story-of 'word wanted)))
        (let* ((place (xref-location-marker (xref-item-location (car found)))) (buffer (marker-buffer place)))
          (set-buffer buffer)
          (goto-char place)
          (unless (string-search (story-of 'at wanted) (story-line)) (story-fail "it leads to `%s'" (story-line)))
          (unless (string-suffix-p (story-of 'file wanted) buffer-file-name) (story-fail "in %s" buffer-file-name))
          (unless (eq (and buffer-read-only t) (story-of 'read_only wanted)) (story-fail "%s can be written" buffer))))
      (set-buffer house))))

(defun story-completion (list)
  (dolist (wanted list)
    (story-go (story-of 'below wanted))
    (end-of-line)
    (insert "\n" (story-of 'typed wanted))
    (pcase-let* ((`(,beg ,end ,table . ,_) (eglot-completion-at-point))
                 (offered (mapcar #'substring-no-properties (all-completions (buffer-substring beg end) table))))
      (unless (member (story-of 'offers wanted) offered)
        (story-fail "`%s' offers only %S" (story-of 'typed wanted) offered)))
    (delete-region (line-end-position 0) (line-end-position))))

(defun story-await-clear ()
  "Wait until no mark is left on this line."
  (story-await "the mark to go" (lambda () (null (flymake-diagnostics (line-beginning-position) (line-end-position))))))

(defun story-typing (wanted)
  (story-go (story-of 'line wanted))
  (delete-region (line-beginning-position) (line-end-position))
  (insert (story-of 'becomes wanted))
  (story-tell-edits)
  ;; The mark goes with its text; that the server saw the new one, the findings tell, which come only then.
  (story-await-clear))

(defun story-quick_fix (wanted)
  (story-go (story-of 'line wanted))
  (let ((mark (car (flymake-diagnostics (line-beginning-position) (line-end-position)))) shown)
    (unless mark (story-fail "no mark on `%s'" (story-line)))
    (goto-char (flymake-diagnostic-beg mark))
    (cl-letf (((symbol-function 'completing-read)
               (lambda (_ choices &rest _)
                 (setq shown (all-completions "" choices))
                 (or (seq-find (lambda (title) (string-search (story-of 'title wanted) title)) shown)
                     (story-fail "offered only %S" shown)))))
      (eglot-code-actions (flymake-diagnostic-beg mark) (flymake-diagnostic-end mark) "quickfix" t))
    (unless (equal (story-line) (story-of 'becomes wanted)) (story-fail "mended to `%s'" (story-line)))
    (story-tell-edits)
    (story-await-clear)))

(defun story-format (wanted)
  (story-go (story-of 'line wanted))
  (let ((number (line-number-at-pos)))
    (eglot-format-buffer)
    (goto-char (point-min))
    (forward-line (1- number))
    (unless (equal (story-line) (story-of 'becomes wanted)) (story-fail "formatted to `%s'" (story-line)))))

(defun story-rename (wanted)
  (story-tell-edits)
  (story-go (story-of 'line wanted) (story-of 'word wanted))
  (eglot-rename (story-of 'to wanted))
  (unless (string-search (story-of 'to wanted) (story-line)) (story-fail "renamed to `%s'" (story-line))))

(defun story-drawing (wanted)
  (story-go (story-of 'line wanted) (story-of 'word wanted))
  (let ((drawing (wythe-drawing-of-point)))
    (unless (string-search (story-of 'title wanted) (downcase (or (plist-get drawing :title) "")))
      (story-fail "the title is %S" (plist-get drawing :title)))
    (unless (string-search "</svg>" (plist-get drawing :svg)) (story-fail "no drawing"))))

(defun story-mend_elsewhere (wanted)
  (let ((house (current-buffer)))
    (find-file (story-of 'file wanted))
    (story-go (story-of 'line wanted))
    (delete-region (line-beginning-position) (line-end-position))
    (insert (story-of 'becomes wanted))
    (eglot--signal-textDocument/didChange)
    (set-buffer house)
    (story-await (concat (story-of 'gone wanted) " to go") (lambda () (not (story-mark (story-of 'gone wanted)))))))

(find-file (story-of 'open))
(switch-to-buffer (current-buffer))
(unless (eq major-mode 'wythe-mode) (story-fail "the mode is %s" major-mode))
(apply #'eglot (append (eglot--guess-contact) '(nil)))
(dolist (step (split-string (getenv "STEPS")))
  (let ((began (float-time)))
    (condition-case problem
        (funcall (intern (concat "story-" step)) (story-of (intern step)))
      (error (story-fail "%s: %S" step problem)))
    (story-say "%s: well, %.0f ms" step (* 1000 (- (float-time) began)))))
(save-some-buffers t)
(story-say "the story is told")
(kill-emacs 0)
;;; emacs.el ends here
