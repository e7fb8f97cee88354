;;; wythe-mode.el --- Walls in Wythe: colours, indentation, and the server through eglot  -*- lexical-binding: t; -*-

;; Version: 0.1.0
;; Package-Requires: ((emacs "27.1"))
;; Keywords: languages

;;; Commentary:

;; Load it, and open a file that ends in .wythe.  With eglot (part of Emacs since 29) `M-x eglot' starts the server; to
;; have it started always:
;;
;;   (add-hook 'wythe-mode-hook #'eglot-ensure)
;;
;; `M-x wythe-drawing' shows the drawing of what is under the cursor, and makes it anew after every save.

;;; Code:

(defgroup wythe nil
  "Walls in Wythe."
  :group 'languages)

(defcustom wythe-server '("wythe-lsp")
  "The server and its arguments."
  :type '(repeat string))

(defcustom wythe-settings nil
  "Settings of the server, such as (:units \"imperial\" :severity (:gap.shallow \"note\"))."
  :type 'plist)

(defcustom wythe-indent 4
  "How many blanks one step of indentation has."
  :type 'integer)

(defconst wythe-small-words
  '("at" "to" "from" "on" "into" "with" "by" "until" "along" "between" "under" "over" "below" "above" "behind" "for"
    "because" "like" "every" "and" "x")
  "Words that name an argument inside a statement.")

(defvar wythe-mode-syntax-table
  (let ((table (make-syntax-table)))
    (modify-syntax-entry ?/ ". 12" table)
    (modify-syntax-entry ?\n ">" table)
    (modify-syntax-entry ?_ "w" table)
    (modify-syntax-entry ?- "." table)
    (modify-syntax-entry ?\" "\"" table)
    table)
  "Comments run from // to the end of the line; a name may hold _.")

(defvar wythe-font-lock-keywords
  `(("^\\([[:alpha:]]+\\)\\_>\\(?:[ \t]+\\(\\w+\\)\\)?" (1 font-lock-keyword-face) (2 font-lock-type-face nil t))
    ("\\(?:^[ \t]+\\|,[ \t]*\\)\\([[:alpha:]_]\\w*\\)" 1 font-lock-builtin-face)
    (,(regexp-opt wythe-small-words 'words) . font-lock-keyword-face)
    ("\\_<[0-9]\\{4\\}-[0-9][0-9]-[0-9][0-9]\\_>" . font-lock-constant-face)
    (,(concat "-?\\_<[0-9]+\\(?:-[0-9]+/[0-9]+\\|[./:][0-9]+\\)?"
              "\\(?:%\\|[[:alpha:]]+[23]?\\(?:/([^)]*)\\)?\\|[ \t]\\(?:perm\\|deg[CF]?\\|[kM]?Pa\\|[mc]?m\\|ft\\|in\\|%\\)\\>\\)?")
     . font-lock-constant-face)
    ("\\([[:alpha:]_]\\w*\\)[ \t]*=" 1 font-lock-variable-name-face))
  "Colours that need no list of keywords: what begins a line or follows a comma is one.")

(defun wythe-indent-line ()
  "Indent this line by the brackets that are open before it."
  (interactive)
  (let* ((depth (save-excursion (beginning-of-line) (car (syntax-ppss))))
         (closes (save-excursion (back-to-indentation) (looking-at-p "[])}]")))
         (column (* wythe-indent (max 0 (if closes (1- depth) depth)))))
    (if (<= (current-column) (current-indentation))
        (indent-line-to column)
      (save-excursion (indent-line-to column)))))

;;;###autoload
(define-derived-mode wythe-mode prog-mode "Wythe"
  "Mode for walls written in Wythe."
  (setq-local comment-start "// ")
  (setq-local comment-end "")
  (setq-local comment-start-skip "///?[ \t]*")
  (setq-local indent-tabs-mode nil)
  (setq-local tab-width wythe-indent)
  (setq-local indent-line-function #'wythe-indent-line)
  (setq-local electric-indent-chars (append "{})\n" electric-indent-chars))
  (setq-local font-lock-defaults '(wythe-font-lock-keywords))
  (setq-local imenu-generic-expression
              '((nil "^\\(?:face\\|assembly\\|detail\\|material\\|product\\|building\\|section\\|site\\)[ \t]+\\(\\w+\\)" 1)))
  (setq-local eglot-workspace-configuration (list :wythe (or wythe-settings (make-hash-table)))))

;;;###autoload
(add-to-list 'auto-mode-alist '("\\.wythe\\'" . wythe-mode))

(defvar eglot-server-programs)
(with-eval-after-load 'eglot
  (add-to-list 'eglot-server-programs (cons 'wythe-mode (lambda (&rest _) wythe-server))))

;; A project is one folder: without version control eglot takes the folder of the file, which is right.

(declare-function eglot-current-server "eglot")
(declare-function eglot--TextDocumentPositionParams "eglot")
(declare-function jsonrpc-request "jsonrpc")

;; Texts of the library, which no disk holds: `wythe-std:/boards.wythe' becomes a copy that can be read only.

(defun wythe-library-file (uri &rest _)
  "The file that shows the text of URI, if it is one of the library's; nil otherwise."
  (let ((name (and (keywordp uri) (substring (symbol-name uri) 1))))
    (setq name (or name (and (stringp uri) uri)))
    (when (and name (string-match "\\`wythe-std:/+\\([[:alnum:]_/]+\\.wythe\\)\\'" name))
      (let* ((path (expand-file-name (concat "wythe-std/" (match-string 1 name)) temporary-file-directory))
             (answer (jsonrpc-request (eglot-current-server) :wythe/text (list :uri name))))
        (make-directory (file-name-directory path) t)
        (when (file-exists-p path) (set-file-modes path #o644))
        (with-temp-file path (insert (or (plist-get answer :text) "")))
        (set-file-modes path #o444)
        path))))

(with-eval-after-load 'eglot
  (advice-add (if (fboundp 'eglot-uri-to-path) 'eglot-uri-to-path 'eglot--uri-to-path)
              :before-until #'wythe-library-file))

(defun wythe-drawing-of-point ()
  "Ask the server for the drawing of what is under the cursor: (:title TEXT :svg TEXT), or (:note WHY-NOT)."
  (let ((server (eglot-current-server)))
    (unless server (user-error "No server runs here; start it with M-x eglot"))
    (jsonrpc-request server :wythe/drawing (eglot--TextDocumentPositionParams))))

(defun wythe-drawing ()
  "Show the drawing of what is under the cursor, and make it anew after every save of this file."
  (interactive)
  (add-hook 'after-save-hook #'wythe-drawing nil t)
  (let ((drawing (wythe-drawing-of-point)))
    (if (not (plist-get drawing :svg))
        (message "%s" (or (plist-get drawing :note) "Nothing to draw here"))
      (with-current-buffer (get-buffer-create "*wythe drawing*")
        (fundamental-mode)
        (let ((inhibit-read-only t))
          (erase-buffer)
          (insert (plist-get drawing :svg)))
        (set-buffer-modified-p nil)
        (if (and (display-graphic-p) (image-type-available-p 'svg))
            (image-mode)
          (setq-local header-line-format
                      (format "%s: this terminal shows no pictures; write the text to a file with C-x C-w"
                              (plist-get drawing :title))))
        (display-buffer (current-buffer))))))

(defun wythe-trace ()
  "Say where water goes on the face under the cursor: from above the opening there, else from its top."
  (interactive)
  (let* ((server (or (eglot-current-server) (user-error "No server runs here; start it with M-x eglot")))
         (here (eglot--TextDocumentPositionParams))
         (place (list :uri (plist-get (plist-get here :textDocument) :uri) :position (plist-get here :position)))
         (answer (jsonrpc-request server :workspace/executeCommand
                                  (list :command "wythe.trace" :arguments (vector place)))))
    (with-help-window "*wythe trace*"
      (princ (or (plist-get answer :text) (plist-get answer :note))))))

(provide 'wythe-mode)
;;; wythe-mode.el ends here
